#include "support/exif_maker.h"

namespace jigtime::test {
namespace {

using Bytes = std::vector<std::uint8_t>;

class TiffWriter {
 public:
  explicit TiffWriter(ByteOrder order) : order_{order} {}

  void number(std::uint32_t value, int size) {
    for (int i = 0; i < size; ++i) {
      const int shift = order_ == ByteOrder::little ? 8 * i : 8 * (size - 1 - i);
      bytes.push_back(static_cast<std::uint8_t>(value >> shift));
    }
  }

  /// One IFD of ASCII fields, and one LONG that points to another IFD when `points_to` is not 0.
  void ifd(const std::vector<std::pair<std::uint16_t, std::string>>& fields, std::uint32_t pointer_tag,
           std::uint32_t points_to) {
    const auto count = static_cast<std::uint32_t>(fields.size()) + (points_to != 0 ? 1U : 0U);
    std::uint32_t data_at = static_cast<std::uint32_t>(bytes.size()) + 2 + 12 * count + 4;
    number(count, 2);
    Bytes data;
    for (const auto& [tag, text] : fields) {
      const auto size = static_cast<std::uint32_t>(text.size()) + 1;
      number(tag, 2);
      number(2, 2);  // ASCII
      number(size, 4);
      Bytes value(text.begin(), text.end());
      value.push_back(0);
      if (size <= 4) {
        value.resize(4);
        bytes.insert(bytes.end(), value.begin(), value.end());
        continue;
      }
      number(data_at + static_cast<std::uint32_t>(data.size()), 4);
      if (size % 2 != 0) value.push_back(0);
      data.insert(data.end(), value.begin(), value.end());
    }
    if (points_to != 0) {
      number(pointer_tag, 2);
      number(4, 2);  // LONG
      number(1, 4);
      number(points_to, 4);
    }
    number(0, 4);  // no further IFD
    bytes.insert(bytes.end(), data.begin(), data.end());
  }

  Bytes bytes;

 private:
  ByteOrder order_;
};

std::vector<std::pair<std::uint16_t, std::string>> given(
    std::initializer_list<std::pair<std::uint16_t, std::string>> fields) {
  std::vector<std::pair<std::uint16_t, std::string>> kept;
  for (const auto& field : fields) {
    if (!field.second.empty()) kept.push_back(field);
  }
  return kept;
}

std::uint32_t size_of(const std::vector<std::pair<std::uint16_t, std::string>>& fields, bool points) {
  std::uint32_t size = 2 + 12 * (static_cast<std::uint32_t>(fields.size()) + (points ? 1U : 0U)) + 4;
  for (const auto& field : fields) {
    const auto value = static_cast<std::uint32_t>(field.second.size()) + 1;
    if (value > 4) size += value + value % 2;
  }
  return size;
}

}  // namespace

std::vector<std::uint8_t> with_exif(const ExifWords& words, const std::vector<std::uint8_t>& picture, ByteOrder order) {
  const auto ifd0 = given({{0x010F, words.make}, {0x0110, words.model}});
  const auto exif = given({{0x9003, words.original}, {0x9011, words.offset}, {0x9291, words.fraction}});
  TiffWriter tiff{order};
  const std::string mark = order == ByteOrder::little ? "II" : "MM";
  tiff.bytes.assign(mark.begin(), mark.end());
  tiff.number(42, 2);
  tiff.number(8, 4);
  tiff.ifd(ifd0, 0x8769, 8 + size_of(ifd0, true));
  tiff.ifd(exif, 0, 0);

  const std::string head{"Exif\0\0", 6};
  const std::size_t length = 2 + head.size() + tiff.bytes.size();
  std::vector<std::uint8_t> file{
      0xFF, 0xD8, 0xFF, 0xE1, static_cast<std::uint8_t>(length >> 8), static_cast<std::uint8_t>(length)};
  file.insert(file.end(), head.begin(), head.end());
  file.insert(file.end(), tiff.bytes.begin(), tiff.bytes.end());
  file.insert(file.end(), picture.begin() + 2, picture.end());
  return file;
}

}  // namespace jigtime::test
