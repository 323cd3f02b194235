// Where picture files of different kinds keep their EXIF.
// Must never know: what EXIF says.
// Begin reading at: find_exif.
//
// JPEG (CIPA DC-008) and TIFF 6.0 are EXIF's own homes; PNG has a chunk eXIf (PNG specification, third edition, 11.3);
// HEIC and AVIF keep it as an item of their meta box (ISO/IEC 14496-12, 8.11; ISO/IEC 23008-12, annex A). Boxes and
// chunks are read as those texts have them, from memory; tests have exiftool read what they write.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace jigtime::media {

enum class PhotoKind { jpeg, tiff, png, heif };
/// By its first bytes; nothing for anything else. Films in the same kind of boxes are none.
std::optional<PhotoKind> photo_kind(std::span<const std::uint8_t> head);

/// A stretch of a file.
struct Stretch {
  std::uint64_t offset = 0;
  std::uint64_t size = 0;
};
/// Where the EXIF of a TIFF, PNG or HEIF file lies, told by the file's beginning; nothing where none is found there.
/// The stretch may lie behind `head`; for HEIF it begins with four bytes that tell how many more to skip.
std::optional<Stretch> find_exif(PhotoKind kind, std::span<const std::uint8_t> head);

/// The bytes of that stretch as a reader of EXIF takes them: "Exif\0\0" and then TIFF. Empty when they are none.
std::vector<std::uint8_t> exif_block(PhotoKind kind, std::span<const std::uint8_t> stretch);

}  // namespace jigtime::media
