// What a photo's file says about itself: its EXIF head; and the picture itself.
// Must never know: the journal, the session clock.
// Begin reading at: read_photo.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>

#include "base/clock_reading.h"
#include "base/picture.h"
#include "base/result.h"

namespace jigtime::media {

struct PhotoInfo {
  std::string device;  ///< maker and model as the file has them, UTF-8; may be empty
  /// When it was taken: DateTimeOriginal with SubSecTimeOriginal and OffsetTimeOriginal (EXIF 2.31). `utc` where the
  /// file names its offset, else `local`. Nothing where there is no such date, or one that cannot be.
  std::optional<ClockReading> taken;
  int orientation = 1;  ///< EXIF's Orientation, 1 to 8: how the picture is to be turned
};

/// The bytes of a JPEG, HEIC, AVIF, PNG or TIFF file, or of its beginning; EXIF mostly lies in front of the picture.
/// Errors: unsupported (none of these). Damaged EXIF is no error: what can be read of it is given.
Result<PhotoInfo> read_photo_head(std::span<const std::uint8_t> bytes);

/// Opens the file for reading only and reads its first megabyte, and its EXIF where that lies farther back. A date in
/// the file's name stands in where the file itself has none, and the file's time (source file_time) where its name has
/// none: a copy made later may carry a later one. Errors: not_found, unsupported (the message says what to do).
Result<PhotoInfo> read_photo(const std::filesystem::path& path);

/// The picture of a JPEG or PNG file, upright, its longer side `most_side` at the most. Nothing of a damaged one is
/// given. Errors: not_found, unsupported (another kind: the message says what to do), unreadable.
Result<Picture> read_photo_picture(const std::filesystem::path& path, int most_side);

}  // namespace jigtime::media
