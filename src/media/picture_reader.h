// The pictures of one file, by clip time.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <stop_token>
#include <vector>

#include "base/picture.h"
#include "base/result.h"
#include "base/time.h"

namespace jigtime::media {

struct TimedPicture {
  ClipTime at;  ///< when it begins to be shown
  Picture picture;
};

class PictureReader {
 public:
  /// `most_width` scales down (never up), keeping the shape; 0 keeps the size. Rotation is applied.
  static Result<PictureReader> open(const std::filesystem::path& path, int most_width = 0, std::stop_token stop = {});
  PictureReader(PictureReader&&) noexcept;
  PictureReader& operator=(PictureReader&&) noexcept;
  ~PictureReader();

  /// The picture on show at `t`: the last one that begins at or before it; the first one before the first.
  Result<TimedPicture> at(ClipTime t);
  /// The one after the last returned; nothing at the end.
  Result<std::optional<TimedPicture>> next();

 private:
  struct Impl;
  explicit PictureReader(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// A still, ready to be kept or put into a page. `quality` 1 to 100.
Result<std::vector<std::uint8_t>> to_jpeg(const Picture& picture, int quality = 85);

}  // namespace jigtime::media
