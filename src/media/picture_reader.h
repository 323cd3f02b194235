// The pictures of one file, by clip time.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
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
  /// `most_width` scales down (never up), keeping the shape; 0 keeps the size. Rotation is applied. `threads` decode
  /// one file: more are faster at reading on, one is quickest to a picture after a jump; 0 chooses for reading on.
  static Result<PictureReader> open(const std::filesystem::path& path, int most_width = 0, std::stop_token stop = {},
                                    int threads = 0);
  PictureReader(PictureReader&&) noexcept;
  PictureReader& operator=(PictureReader&&) noexcept;
  ~PictureReader();

  /// The picture on show at `t`: the last one that begins at or before it; the first one before the first.
  Result<TimedPicture> at(ClipTime t);
  /// The one after the last returned; nothing at the end.
  Result<std::optional<TimedPicture>> next();

  /// Of the pictures that come from now on.
  void set_most_width(int most_width);
  /// Asked between pictures while one is looked for: when it says true, at() and next() give up with Code::cancelled.
  /// The reader can be asked again.
  void set_give_up(std::function<bool()> give_up);
  /// Pictures so far that were damaged: left out, or shown with what there is of them.
  std::int64_t damaged_pictures() const;

 private:
  struct Impl;
  explicit PictureReader(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// A still, ready to be kept or put into a page. `quality` 1 to 100.
Result<std::vector<std::uint8_t>> to_jpeg(const Picture& picture, int quality = 85);

}  // namespace jigtime::media
