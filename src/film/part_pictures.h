// The pictures of one file of a clip, out of its small copy as long as that serves, else out of the file itself.
#pragma once

#include <functional>
#include <optional>
#include <stop_token>

#include "film/camera_reader.h"
#include "media/picture_reader.h"

namespace jigtime::film {

/// Refuses a file that is not the one it should be. Errors: not_found, and media::identify's.
Done check_identity(const Part& part);

class PartPictures {
 public:
  static Result<PartPictures> open(const Part& part, const CameraReader::Settings& settings, std::stop_token stop,
                                   std::function<bool()> give_up);

  const Part& part() const { return part_; }
  /// Clip time inside the file. After a failure of the copy the source is opened and asked.
  Result<media::TimedPicture> at(ClipTime t);
  Result<std::optional<media::TimedPicture>> next();
  void set_most_width(int most_width);
  bool copy_is_bad() const { return copy_is_bad_; }

 private:
  PartPictures(const Part& part, const CameraReader::Settings& settings, std::stop_token stop,
               std::function<bool()> give_up);
  bool from_copy() const { return !part_.copy.empty() && settings_.use_copies && !copy_is_bad_; }
  Done open_reader();
  /// True when what was just read shows that the copy is bad: the source has been opened then.
  Result<bool> left_copy(bool failed);

  Part part_;
  CameraReader::Settings settings_;
  std::stop_token stop_;
  std::function<bool()> give_up_;
  std::optional<media::PictureReader> reader_;
  ClipTime last_{};  ///< of the picture returned last
  bool copy_is_bad_ = false;
};

}  // namespace jigtime::film
