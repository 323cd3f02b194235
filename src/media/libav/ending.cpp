#include "media/libav/ending.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "media/libav/error.h"

namespace jigtime::media {
namespace {

constexpr std::string_view mp4_name = "mov,mp4,m4a,3gp,3g2,mj2";
constexpr const char* breaks_off = "The file breaks off: it is shorter than it says itself.";
constexpr const char* mid_packet = "The file breaks off in the middle of a packet.";
constexpr const char* unfinished = "The camera did not finish the file: it ends without the usual closing part.";

std::uint64_t big_endian(std::span<const std::uint8_t> bytes) {
  std::uint64_t value = 0;
  for (const std::uint8_t byte : bytes) value = value << 8 | byte;
  return value;
}

std::uint64_t little_endian(std::span<const std::uint8_t> bytes) {
  std::uint64_t value = 0;
  for (std::size_t i = bytes.size(); i > 0; --i) value = value << 8 | bytes[i - 1];
  return value;
}

/// One box of ISO/IEC 14496-12 at the top of the file. `size` reaches to the end of the file when the box says so.
struct Box {
  std::int64_t at = 0;
  std::int64_t size = 0;
  std::string type;
};

std::optional<Box> box_at(FileIo& file, std::int64_t at) {
  std::array<std::uint8_t, 16> head{};
  const int got = file.read_at(at, head.data(), static_cast<int>(head.size()));
  if (got < 8) return std::nullopt;
  const std::span<const std::uint8_t> bytes{head};
  std::uint64_t size = big_endian(bytes.first(4));
  if (size == 1 && got == 16) size = big_endian(bytes.subspan(8, 8));
  if (size == 0) size = static_cast<std::uint64_t>(file.size() - at);
  if (size < 8 || size > static_cast<std::uint64_t>(INT64_MAX - at)) return std::nullopt;
  return Box{at, static_cast<std::int64_t>(size), std::string{bytes.begin() + 4, bytes.begin() + 8}};
}

struct Boxes {
  bool index = false;      ///< a "moov" is there, whole
  bool cut_short = false;  ///< the last box reaches beyond the end of the file
};

Boxes look_at_boxes(FileIo& file) {
  Boxes found;
  // A real file has a handful, a fragmented one a few thousand.
  std::int64_t at = 0;
  for (int count = 0; count < 100'000 && at < file.size(); ++count) {
    const std::optional<Box> box = box_at(file, at);
    if (!box) return found;
    const bool whole = box->size <= file.size() - at;
    if (box->type == "moov" && whole) found.index = true;
    if (!whole) found.cut_short = true;
    at += box->size;
  }
  return found;
}

/// An element's size in EBML (RFC 8794, section 4.4): nothing when it says "unknown".
std::optional<std::uint64_t> ebml_size(std::span<const std::uint8_t> bytes, std::size_t& length) {
  length = 1;
  if (bytes.empty()) return std::nullopt;
  while (length <= 8 && (bytes[0] & (0x100U >> length)) == 0) ++length;
  if (length > 8 || length > bytes.size()) return std::nullopt;
  const std::uint64_t all_ones = (std::uint64_t{1} << (7 * length)) - 1;
  const std::uint64_t value = big_endian(bytes.first(length)) & all_ones;
  if (value == all_ones) return std::nullopt;
  return value;
}

std::optional<std::string> matroska_ending(FileIo& file) {
  constexpr std::array<std::uint8_t, 4> segment{0x18, 0x53, 0x80, 0x67};
  std::vector<std::uint8_t> head(4096);
  const int got = file.read_at(0, head.data(), static_cast<int>(head.size()));
  if (got <= 0) return std::nullopt;
  head.resize(static_cast<std::size_t>(got));
  const auto found = std::search(head.begin(), head.end(), segment.begin(), segment.end());
  if (found == head.end()) return std::nullopt;
  const auto after = static_cast<std::size_t>(found - head.begin()) + segment.size();
  std::size_t length = 0;
  const std::optional<std::uint64_t> size = ebml_size(std::span{head}.subspan(after), length);
  if (!size) return unfinished;
  if (after + length + *size > static_cast<std::uint64_t>(file.size())) return breaks_off;
  return std::nullopt;
}

/// AVI and WAV: the size of the first RIFF chunk.
std::optional<std::string> riff_ending(FileIo& file) {
  std::array<std::uint8_t, 12> head{};
  if (file.read_at(0, head.data(), 12) != 12) return std::nullopt;
  const std::uint64_t size = little_endian(std::span{head}.subspan(4, 4));
  if (size == 0 || size == 0xFFFFFFFFU) return head[1] == 'I' ? std::optional<std::string>{unfinished} : std::nullopt;
  if (size + 8 > static_cast<std::uint64_t>(file.size()) + 1) return breaks_off;
  return std::nullopt;
}

/// Distance of the sync bytes of an MPEG transport stream: 188, 192 (with time codes) or 204 bytes; 0 if none fits.
int packet_size(std::span<const std::uint8_t> head, std::size_t first) {
  constexpr std::array<int, 3> sizes{188, 192, 204};
  for (const int size : sizes) {
    bool fits = true;
    for (std::size_t k = 0; k < 5 && fits; ++k) {
      const std::size_t at = first + k * static_cast<std::size_t>(size);
      fits = at < head.size() && head[at] == 0x47;
    }
    if (fits) return size;
  }
  return 0;
}

std::optional<std::string> transport_ending(FileIo& file) {
  std::vector<std::uint8_t> head(4096);
  const int got = file.read_at(0, head.data(), static_cast<int>(head.size()));
  if (got <= 0) return std::nullopt;
  head.resize(static_cast<std::size_t>(got));
  for (std::size_t first = 0; first < 204; ++first) {
    const int size = packet_size(head, first);
    if (size == 0) continue;
    // With time codes each packet's own four bytes stand before its sync byte.
    const std::int64_t start = static_cast<std::int64_t>(first) - (size == 192 ? 4 : 0);
    return (file.size() - start) % size != 0 ? std::optional<std::string>{mid_packet} : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace

bool starts_blank(FileIo& file) {
  std::vector<std::uint8_t> head(64 * 1024);
  const int got = file.read_at(0, head.data(), static_cast<int>(head.size()));
  return got > 0 && std::all_of(head.begin(), head.begin() + got, [](std::uint8_t byte) { return byte == 0; });
}

Error blank_file(const std::string& name) {
  return {Code::unreadable, name +
                                " is blank: it has a length but only zeros in it. Copy it again from the card; if it "
                                "is the same there, the recording is lost."};
}

Error why_unopened(int code, FileIo& file, std::string_view container, const std::string& name) {
  if (code == AVERROR_EXIT) return from_libav(code, "Opening " + name);
  if (container == mp4_name && !look_at_boxes(file).index) {
    return {Code::unreadable, name +
                                  ": The recording was cut off before the camera could finish the file (it has no "
                                  "index). Copy it again from the card; if it is the same there, it cannot be read."};
  }
  return from_libav(code, name + " is damaged and cannot be opened");
}

std::optional<std::string> broken_ending(FileIo& file, std::string_view container) {
  if (container == mp4_name) {
    return look_at_boxes(file).cut_short ? std::optional<std::string>{breaks_off} : std::nullopt;
  }
  if (container == "matroska,webm") return matroska_ending(file);
  if (container == "avi" || container == "wav") return riff_ending(file);
  if (container == "mpegts") return transport_ending(file);
  return std::nullopt;
}

}  // namespace jigtime::media
