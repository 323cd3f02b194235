#include "film/part_pictures.h"

#include <utility>

#include "base/text.h"
#include "media/probe.h"

namespace jigtime::film {
namespace {

// To the instant after the one before: enough to be past it, far less than any picture lasts.
constexpr Length just_after{1};

}  // namespace

Done check_identity(const Part& part) {
  if (!part.identity) return {};
  const auto found = media::identify(part.source);
  if (!found) return found.error();
  if (*found == *part.identity) return {};
  return Error{Code::not_found, "In the place of " + to_utf8(part.source.filename().string()) +
                                    " lies another file now. Look for the right one: jigtime footage JOURNAL "
                                    "--look-in FOLDER."};
}

PartPictures::PartPictures(const Part& part, const CameraReader::Settings& settings, std::stop_token stop,
                           std::function<bool()> give_up)
    : part_{part}, settings_{settings}, stop_{std::move(stop)}, give_up_{std::move(give_up)} {}

Result<PartPictures> PartPictures::open(const Part& part, const CameraReader::Settings& settings, std::stop_token stop,
                                        std::function<bool()> give_up) {
  PartPictures made{part, settings, std::move(stop), std::move(give_up)};
  Done opened = made.open_reader();
  if (!opened && made.from_copy() && opened.error().code() != Code::cancelled) {
    made.copy_is_bad_ = true;
    opened = made.open_reader();
  }
  if (!opened) return opened.error();
  return made;
}

Done PartPictures::open_reader() {
  if (!from_copy()) {
    if (const Done same = check_identity(part_); !same) return same;
  }
  auto opened = from_copy() ? media::PictureReader::open(part_.copy, settings_.most_width, stop_, 1)
                            : media::PictureReader::open(part_.source, settings_.most_width, stop_, settings_.threads);
  if (!opened) return opened.error();
  reader_.emplace(std::move(*opened));
  reader_->set_give_up(give_up_);
  return {};
}

Result<bool> PartPictures::left_copy(bool failed) {
  if (!from_copy() || (!failed && reader_->damaged_pictures() == 0)) return false;
  copy_is_bad_ = true;
  if (const Done opened = open_reader(); !opened) return opened.error();
  return true;
}

Result<media::TimedPicture> PartPictures::at(ClipTime t) {
  auto found = reader_->at(t);
  if (!found && found.error().code() == Code::cancelled) return found.error();
  const auto left = left_copy(!found);
  if (!left) return left.error();
  if (*left) found = reader_->at(t);
  if (found) last_ = found->at;
  return found;
}

Result<std::optional<media::TimedPicture>> PartPictures::next() {
  auto found = reader_->next();
  if (!found && found.error().code() == Code::cancelled) return found.error();
  const auto left = left_copy(!found);
  if (!left) return left.error();
  if (*left) {
    // Where the copy was: the source's picture there may begin some nanoseconds later.
    if (const auto back = reader_->at(last_ + std::chrono::microseconds{20}); !back) return back.error();
    found = reader_->next();
  }
  if (found && *found) last_ = std::max((*found)->at, last_ + just_after);
  return found;
}

void PartPictures::set_most_width(int most_width) {
  settings_.most_width = most_width;
  reader_->set_most_width(most_width);
}

}  // namespace jigtime::film
