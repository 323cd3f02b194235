#include "support/exif_maker.h"

#include <string_view>

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

void append(Bytes& to, std::string_view text) { to.insert(to.end(), text.begin(), text.end()); }
void append(Bytes& to, const Bytes& bytes) { to.insert(to.end(), bytes.begin(), bytes.end()); }
void append(Bytes& to, std::uint32_t value, int size) {
  for (int i = size; i-- > 0;) to.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}

/// The PNG specification's own (annex D).
std::uint32_t checksum(const Bytes& bytes) {
  std::uint32_t sum = 0xFFFFFFFF;
  for (const std::uint8_t byte : bytes) {
    sum ^= byte;
    for (int bit = 0; bit < 8; ++bit) sum = (sum & 1U) != 0 ? 0xEDB88320U ^ sum >> 1U : sum >> 1U;
  }
  return ~sum;
}

void chunk(Bytes& file, std::string_view type, const Bytes& data) {
  append(file, static_cast<std::uint32_t>(data.size()), 4);
  Bytes body;
  append(body, type);
  append(body, data);
  append(file, body);
  append(file, checksum(body), 4);
}

Bytes box(std::string_view type, const Bytes& body) {
  Bytes bytes;
  append(bytes, static_cast<std::uint32_t>(body.size()) + 8, 4);
  append(bytes, type);
  append(bytes, body);
  return bytes;
}

/// The meta box with one item, the EXIF at that place of the file.
Bytes meta_box(std::uint32_t offset, std::uint32_t size) {
  Bytes handler(8, 0);
  append(handler, "pict");
  handler.resize(25, 0);
  Bytes entry{2, 0, 0, 0, 0, 1, 0, 0};
  append(entry, "Exif");
  entry.push_back(0);
  Bytes infos{0, 0, 0, 0, 0, 1};
  append(infos, box("infe", entry));
  Bytes places{1, 0, 0, 0, 0x44, 0x00, 0, 1, 0, 1, 0, 0, 0, 0, 0, 1};
  append(places, offset, 4);
  append(places, size, 4);
  Bytes body(4, 0);
  append(body, box("hdlr", handler));
  append(body, box("iinf", infos));
  append(body, box("iloc", places));
  return box("meta", body);
}

}  // namespace

std::vector<std::uint8_t> exif_tiff(const ExifWords& words, ByteOrder order) {
  const auto ifd0 = given({{0x010F, words.make}, {0x0110, words.model}});
  const auto exif = given({{0x9003, words.original}, {0x9011, words.offset}, {0x9291, words.fraction}});
  TiffWriter tiff{order};
  const std::string mark = order == ByteOrder::little ? "II" : "MM";
  tiff.bytes.assign(mark.begin(), mark.end());
  tiff.number(42, 2);
  tiff.number(8, 4);
  tiff.ifd(ifd0, 0x8769, 8 + size_of(ifd0, true));
  tiff.ifd(exif, 0, 0);
  return tiff.bytes;
}

std::vector<std::uint8_t> exif_png(const ExifWords& words) {
  Bytes file;
  append(file, "\x89PNG\r\n\x1A\n");
  chunk(file, "IHDR", {0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0});
  chunk(file, "eXIf", exif_tiff(words));
  // One row of filter 0 and one byte, stored without compression (RFC 1950, RFC 1951).
  chunk(file, "IDAT", {0x78, 0x01, 0x01, 0x02, 0x00, 0xFD, 0xFF, 0x00, 0x80, 0x00, 0x82, 0x00, 0x81});
  chunk(file, "IEND", {});
  return file;
}

std::vector<std::uint8_t> exif_heic(const ExifWords& words, std::size_t behind) {
  Bytes item{0, 0, 0, 6};
  append(item, std::string_view{"Exif\0\0", 6});
  append(item, exif_tiff(words));
  Bytes file;
  Bytes brands;
  append(brands, "heic");
  append(brands, 0, 4);
  append(brands, "mif1heic");
  append(file, box("ftyp", brands));
  const auto size = static_cast<std::uint32_t>(item.size());
  const std::size_t before = file.size() + meta_box(0, size).size() + 8 + behind;
  append(file, meta_box(static_cast<std::uint32_t>(before), size));
  Bytes data(behind, 0);
  append(data, item);
  append(file, box("mdat", data));
  return file;
}

std::vector<std::uint8_t> with_exif(const ExifWords& words, const std::vector<std::uint8_t>& picture, ByteOrder order) {
  const Bytes tiff = exif_tiff(words, order);
  const std::string head{"Exif\0\0", 6};
  const std::size_t length = 2 + head.size() + tiff.size();
  std::vector<std::uint8_t> file{
      0xFF, 0xD8, 0xFF, 0xE1, static_cast<std::uint8_t>(length >> 8), static_cast<std::uint8_t>(length)};
  file.insert(file.end(), head.begin(), head.end());
  file.insert(file.end(), tiff.begin(), tiff.end());
  file.insert(file.end(), picture.begin() + 2, picture.end());
  return file;
}

}  // namespace jigtime::test
