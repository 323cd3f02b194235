#include "actions/photo_pictures.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <span>
#include <string_view>
#include <system_error>

#include "actions/cache.h"
#include "actions/whole_file.h"
#include "media/photo.h"
#include "media/photo_file.h"
#include "media/picture_reader.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

constexpr int longer_side = 640;
constexpr int quality = 85;

fs::path kept_under(const journal::Photo& photo) {
  return cache_folder() / (photo.identity.hex() + "-" + std::to_string(photo.identity.size_bytes) + ".photo");
}

bool is_shown(media::PhotoKind kind) { return kind == media::PhotoKind::jpeg || kind == media::PhotoKind::png; }

std::optional<media::PhotoKind> kind_of(const fs::path& path) {
  std::ifstream file{path, std::ios::binary};
  std::array<std::uint8_t, 64> head{};
  // NOLINTNEXTLINE: characters as the bytes they are.
  file.read(reinterpret_cast<char*>(head.data()), static_cast<std::streamsize>(head.size()));
  return media::photo_kind(
      std::span{head}.first(static_cast<std::size_t>(std::max<std::streamsize>(file.gcount(), 0))));
}

}  // namespace

std::string why_not_shown(const journal::Photo& photo) {
  std::error_code ignored;
  if (!fs::exists(photo.path, ignored)) {
    return "its file is not where the journal expects it; add the photo again from where it is now";
  }
  const auto identity = media::identify(photo.path);
  if (!identity) return "its file cannot be read";
  if (*identity != photo.identity) return "its file was changed since it was added";
  const auto kind = kind_of(photo.path);
  if (!kind || !is_shown(*kind)) return "only JPEG and PNG files are shown";
  return {};
}

Result<std::vector<std::uint8_t>> small_photo(const journal::Photo& photo) {
  const fs::path kept = kept_under(photo);
  if (const auto there = read_whole(kept); there && !there->empty()) return *there;
  const auto picture = media::read_photo_picture(photo.path, longer_side);
  if (!picture) return picture.error();
  auto jpeg = media::to_jpeg(*picture, quality);
  if (!jpeg) return jpeg.error();
  // Where nothing can be kept it is made again.
  std::error_code failure;
  fs::create_directories(kept.parent_path(), failure);
  const Done ignored = write_whole(kept, std::span<const std::uint8_t>{*jpeg});
  static_cast<void>(ignored);
  return jpeg;
}

}  // namespace jigtime::actions
