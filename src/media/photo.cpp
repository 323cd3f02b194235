#include "media/photo.h"

#include <libexif/exif-data.h>
#include <libexif/exif-utils.h>

#include <algorithm>
#include <fstream>
#include <limits>
#include <memory>
#include <vector>

#include "base/text.h"
#include "media/civil.h"
#include "media/photo_file.h"
#include "media/probe.h"

namespace jigtime::media {
namespace {

constexpr std::size_t head_bytes = 1'000'000;

struct ExifDeleter {
  void operator()(ExifData* data) const { exif_data_unref(data); }
};
using ExifPtr = std::unique_ptr<ExifData, ExifDeleter>;

/// An ASCII field without the NUL that ends it, and without blanks; empty when it is not there or is no text.
std::string text_of(const ExifData& data, ExifIfd part, ExifTag tag) {
  ExifContent* content = data.ifd[part];
  const ExifEntry* entry = content == nullptr ? nullptr : exif_content_get_entry(content, tag);
  if (entry == nullptr || entry->format != EXIF_FORMAT_ASCII || entry->data == nullptr) return {};
  std::string text(entry->data, entry->data + entry->size);
  text.resize(std::min(text.size(), text.find('\0')));
  return std::string{trimmed(to_utf8(text))};
}

bool all_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// "2026:03:14 09:30:12", "345" and "+01:00" as one stamp. A part that cannot be is left out.
std::optional<ClockReading> reading_of(const std::string& date, const std::string& fraction,
                                       const std::string& offset) {
  if (date.size() != 19 || date[4] != ':' || date[7] != ':' || date[10] != ' ') return std::nullopt;
  std::string plain = date;
  plain[4] = plain[7] = '-';
  const std::string with_fraction = all_digits(fraction) && fraction.size() <= 9 ? plain + "." + fraction : plain;
  std::optional<Stamp> stamp;
  if (!offset.empty()) stamp = parse_stamp(with_fraction + offset);
  if (!stamp) stamp = parse_stamp(with_fraction);
  if (!stamp || !within_reach(stamp->since_epoch)) return std::nullopt;
  ClockReading reading;
  reading.source = ClockSource::container;
  reading.kind = stamp->zone_known ? ClockKind::utc : ClockKind::local;
  reading.since_epoch = stamp->since_epoch;
  reading.resolution = stamp->resolution;
  reading.text = date + (fraction.empty() ? "" : "." + fraction) + offset;
  return reading;
}

/// What a file's time is worth for a photo: it was written when it was taken, unless something else wrote it since.
std::optional<ClockReading> file_time(const std::filesystem::path& path) {
  std::error_code failed;
  const auto written = std::filesystem::last_write_time(path, failed);
  if (failed) return std::nullopt;
  const auto since = std::chrono::duration_cast<Length>(std::chrono::file_clock::to_sys(written).time_since_epoch());
  if (since <= Length{0} || !within_reach(since)) return std::nullopt;
  // FAT keeps even seconds only.
  return ClockReading{ClockSource::file_time,  ClockKind::utc,          ClockEdge::end, since,
                      std::chrono::seconds{2}, to_text(WallTime{since})};
}

/// 1 where the file says nothing, or what cannot be.
int orientation_of(const ExifData& data) {
  ExifContent* content = data.ifd[EXIF_IFD_0];
  const ExifEntry* entry = content == nullptr ? nullptr : exif_content_get_entry(content, EXIF_TAG_ORIENTATION);
  if (entry == nullptr || entry->format != EXIF_FORMAT_SHORT || entry->data == nullptr || entry->size < 2) return 1;
  const ExifByteOrder order = exif_data_get_byte_order(entry->parent->parent);
  const int orientation = exif_get_short(entry->data, order);
  return orientation >= 1 && orientation <= 8 ? orientation : 1;
}

PhotoInfo info_of(std::span<const std::uint8_t> exif) {
  PhotoInfo info;
  if (exif.empty()) return info;
  const ExifPtr data{exif_data_new_from_data(exif.data(), static_cast<unsigned int>(exif.size()))};
  if (data == nullptr) return info;
  const std::string maker = text_of(*data, EXIF_IFD_0, EXIF_TAG_MAKE);
  const std::string model = text_of(*data, EXIF_IFD_0, EXIF_TAG_MODEL);
  info.device = maker.empty() || model.starts_with(maker) ? model : maker + (model.empty() ? "" : " " + model);
  info.orientation = orientation_of(*data);
  info.taken = reading_of(text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL),
                          text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_SUB_SEC_TIME_ORIGINAL),
                          text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_OFFSET_TIME_ORIGINAL));
  return info;
}

/// Bytes of the file from `offset`, at most `most`; fewer where it ends. For reading only.
std::vector<std::uint8_t> bytes_of(std::istream& file, std::uint64_t offset, std::uint64_t most) {
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(std::min<std::uint64_t>(most, head_bytes)));
  if (offset > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max())) return {};
  file.clear();
  file.seekg(static_cast<std::streamoff>(offset));
  // NOLINTNEXTLINE: characters as the bytes they are.
  file.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(std::max<std::streamsize>(file.gcount(), 0)));
  return bytes;
}

Error no_photo() {
  return {Code::unsupported,
          "The file is no picture of a kind that is read here (JPEG, HEIC, AVIF, PNG, TIFF). Save a copy of it as JPEG "
          "and add that."};
}

/// `fetch` gives a stretch of the file.
template <class Fetch>
PhotoInfo info_from(PhotoKind kind, std::span<const std::uint8_t> head, Fetch fetch) {
  if (kind == PhotoKind::jpeg) return info_of(head);
  const auto place = find_exif(kind, head);
  return place ? info_of(exif_block(kind, fetch(*place))) : PhotoInfo{};
}

}  // namespace

Result<PhotoInfo> read_photo_head(std::span<const std::uint8_t> bytes) {
  const auto kind = photo_kind(bytes);
  if (!kind) return no_photo();
  const std::span<const std::uint8_t> head = bytes.first(std::min(bytes.size(), head_bytes));
  return info_from(*kind, head, [&](const Stretch& place) {
    const std::size_t from = static_cast<std::size_t>(std::min<std::uint64_t>(place.offset, head.size()));
    return head.subspan(from, static_cast<std::size_t>(std::min<std::uint64_t>(place.size, head.size() - from)));
  });
}

Result<PhotoInfo> read_photo(const std::filesystem::path& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file) {
    return Error{Code::not_found, "The photo cannot be opened. Check its path and its permissions."};
  }
  const std::vector<std::uint8_t> head = bytes_of(file, 0, head_bytes);
  const auto kind = photo_kind(head);
  if (!kind) return no_photo();
  PhotoInfo info =
      info_from(*kind, head, [&](const Stretch& place) { return bytes_of(file, place.offset, place.size); });
  if (!info.taken) {
    info.taken = clock_in_name(path.filename().string());
    if (info.taken && !within_reach(info.taken->since_epoch)) info.taken.reset();
  }
  if (!info.taken) info.taken = file_time(path);
  return info;
}

}  // namespace jigtime::media
