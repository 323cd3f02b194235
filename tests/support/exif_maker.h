// Picture files with EXIF, written by hand.
//
// Layout as in EXIF 2.3 (JEITA CP-3451C / CIPA DC-008), 4.5 and 4.6, over TIFF 6.0: SOI, an APP1 segment "Exif\0\0"
// with a TIFF head, IFD0 (Make, Model, pointer to the EXIF IFD), the EXIF IFD (DateTimeOriginal and its companions),
// then the picture's own segments. Tag numbers and sizes are those of the standard, from memory; tests have the `exif`
// program read the result.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace jigtime::test {

enum class ByteOrder { little, big };

struct ExifWords {
  std::string make;
  std::string model;
  std::string original;  ///< DateTimeOriginal, "2026:03:14 09:30:12"
  std::string fraction;  ///< SubSecTimeOriginal
  std::string offset;    ///< OffsetTimeOriginal, "+01:00"
};

/// Fields that are empty are left out. `picture` is a JPEG file; its own segments follow the head.
std::vector<std::uint8_t> with_exif(const ExifWords& words, const std::vector<std::uint8_t>& picture,
                                    ByteOrder order = ByteOrder::little);

/// The same fields as a TIFF file without a picture.
std::vector<std::uint8_t> exif_tiff(const ExifWords& words, ByteOrder order = ByteOrder::little);
/// In the chunk eXIf of a PNG file of one grey point (PNG specification, third edition).
std::vector<std::uint8_t> exif_png(const ExifWords& words);
/// As an item of a HEIC file without pictures (ISO/IEC 14496-12, 8.11; ISO/IEC 23008-12, annex A), so many bytes behind
/// the boxes that describe it.
std::vector<std::uint8_t> exif_heic(const ExifWords& words, std::size_t behind = 0);

/// The smallest thing that begins as a JPEG file does.
inline const std::vector<std::uint8_t> bare_jpeg{0xFF, 0xD8, 0xFF, 0xD9};

}  // namespace jigtime::test
