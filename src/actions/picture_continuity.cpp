#include "actions/picture_continuity.h"

#include <algorithm>
#include <cstdlib>

#include "media/picture_reader.h"

namespace jigtime::actions {
namespace {

constexpr int width = 96;
/// Compression may redraw the whole picture a little at a key picture: levels of 255.
constexpr double redraw = 6;

/// Mean difference of green (near luma) in levels of 255.
double difference(const Picture& a, const Picture& b) {
  if (a.width != b.width || a.height != b.height || a.rgba.empty()) return 255;
  std::int64_t sum = 0;
  for (std::size_t i = 1; i < a.rgba.size(); i += 4) sum += std::abs(int{a.rgba[i]} - int{b.rgba[i]});
  return static_cast<double>(sum) * 4 / static_cast<double>(a.rgba.size());
}

}  // namespace

bool pictures_go_on(const std::filesystem::path& before, const media::MediaInfo& before_info,
                    const std::filesystem::path& after, const media::MediaInfo& after_info,
                    const std::stop_token& stop) {
  if (!before_info.picture || !after_info.picture) return true;
  auto left = media::PictureReader::open(before, width, stop);
  auto right = media::PictureReader::open(after, width, stop);
  if (!left || !right) return true;

  const Length step = std::max<Length>(before_info.picture->picture_length, std::chrono::milliseconds{5});
  const ClipTime end = before_info.picture->end;
  const auto last_but_one = left->at(end - step * 5 / 2);
  const auto last = left->at(end - step / 2);
  const auto first = right->at(ClipTime{});
  if (!last_but_one || !last || !first) return true;
  const auto second = right->next();

  double usual = difference(last_but_one->picture, last->picture);
  if (second && *second) usual = std::max(usual, difference(first->picture, (*second)->picture));
  return difference(last->picture, first->picture) <= 3 * usual + redraw;
}

}  // namespace jigtime::actions
