#include "media/photo.h"

#include <libexif/exif-data.h>
#include <libexif/exif-utils.h>

#include <fstream>
#include <memory>
#include <vector>

#include "base/text.h"
#include "media/civil.h"
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

}  // namespace

Result<PhotoInfo> read_photo_head(std::span<const std::uint8_t> bytes) {
  if (bytes.size() < 3 || bytes[0] != 0xFF || bytes[1] != 0xD8 || bytes[2] != 0xFF) {
    return Error{Code::unsupported, "The file is no JPEG picture. Save a copy of it as JPEG and add that."};
  }
  PhotoInfo info;
  const std::span<const std::uint8_t> head = bytes.first(std::min(bytes.size(), head_bytes));
  const ExifPtr data{exif_data_new_from_data(head.data(), static_cast<unsigned int>(head.size()))};
  if (data == nullptr) return info;
  const std::string maker = text_of(*data, EXIF_IFD_0, EXIF_TAG_MAKE);
  const std::string model = text_of(*data, EXIF_IFD_0, EXIF_TAG_MODEL);
  info.device = maker.empty() || model.starts_with(maker) ? model : maker + (model.empty() ? "" : " " + model);
  info.taken = reading_of(text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL),
                          text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_SUB_SEC_TIME_ORIGINAL),
                          text_of(*data, EXIF_IFD_EXIF, EXIF_TAG_OFFSET_TIME_ORIGINAL));
  return info;
}

Result<PhotoInfo> read_photo(const std::filesystem::path& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file) {
    return Error{Code::not_found, "The photo cannot be opened. Check its path and its permissions."};
  }
  std::vector<char> bytes(head_bytes);
  file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(file.gcount()));
  // NOLINTNEXTLINE: characters as the bytes they are.
  auto info = read_photo_head({reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size()});
  if (info && !info->taken) {
    info->taken = clock_in_name(path.filename().string());
    if (info->taken && !within_reach(info->taken->since_epoch)) info->taken.reset();
  }
  return info;
}

}  // namespace jigtime::media
