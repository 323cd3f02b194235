#include "media/libav/clocks.h"

#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "base/text.h"
#include "media/civil.h"
#include "media/probe.h"
#include "media/timecode.h"

namespace jigtime::media {
namespace {

void add(std::vector<ClockReading>& clocks, const std::optional<ClockReading>& reading) {
  if (!reading) return;
  const bool known = std::any_of(clocks.begin(), clocks.end(), [&](const ClockReading& other) {
    return other.source == reading->source && other.kind == reading->kind && other.since_epoch == reading->since_epoch;
  });
  if (!known) clocks.push_back(*reading);
}

std::optional<std::string> tag(const AVDictionary* tags, const char* key) {
  const AVDictionaryEntry* entry = av_dict_get(tags, key, nullptr, 0);
  if (entry == nullptr) return std::nullopt;
  return to_utf8(entry->value);
}

std::optional<ClockReading> timecode_reading(const AVDictionary* tags, AVRational rate) {
  const std::optional<std::string> text = tag(tags, "timecode");
  if (!text) return std::nullopt;
  const std::optional<Timecode> label = parse_timecode(*text);
  if (!label) return std::nullopt;
  const std::optional<Length> since = time_of_day(*label, rate.num, rate.den);
  // All zeros is what a device writes that keeps no timecode.
  if (!since || *since == Length{0}) return std::nullopt;
  const Length frame{scaled(1'000'000'000, rate.den, rate.num)};
  return ClockReading{ClockSource::timecode, ClockKind::time_of_day, ClockEdge::begin, *since, frame, *text};
}

void add_timecodes(const Source& source, std::vector<ClockReading>& clocks) {
  const AVRational pictures = source.pictures() != nullptr ? source.pictures()->avg_frame_rate : AVRational{0, 1};
  const AVFormatContext& format = source.format();
  for (unsigned i = 0; i < format.nb_streams; ++i) {
    const AVStream& stream = *format.streams[i];
    // A timecode track may count at another rate than the pictures.
    const bool own_rate = stream.codecpar->codec_type == AVMEDIA_TYPE_DATA && stream.avg_frame_rate.num > 0;
    add(clocks, timecode_reading(stream.metadata, own_rate ? stream.avg_frame_rate : pictures));
  }
  add(clocks, timecode_reading(format.metadata, pictures));
}

bool ends_in(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// Tags that hold when the recording was made, whatever a maker puts before the word.
bool is_date_tag(std::string_view key) {
  constexpr std::array<std::string_view, 5> ends{"creationdate", "creation_date", "date", "date_recorded",
                                                 "DATE_RECORDED"};
  return std::any_of(ends.begin(), ends.end(), [&](std::string_view end) { return ends_in(key, end); });
}

ClockReading container_reading(const Stamp& stamp, ClockKind kind, std::string text) {
  return {ClockSource::container, kind, ClockEdge::begin, stamp.since_epoch, stamp.resolution, std::move(text)};
}

enum class Zone { written, missing };

void add_dates(const AVDictionary* tags, Zone wanted, std::vector<ClockReading>& clocks) {
  const AVDictionaryEntry* entry = nullptr;
  while ((entry = av_dict_get(tags, "", entry, AV_DICT_IGNORE_SUFFIX)) != nullptr) {
    if (!is_date_tag(entry->key)) continue;
    const std::optional<Stamp> stamp = parse_stamp(entry->value);
    if (!stamp || stamp->zone_known != (wanted == Zone::written)) continue;
    add(clocks,
        container_reading(*stamp, stamp->zone_known ? ClockKind::utc : ClockKind::local, to_utf8(entry->value)));
  }
}

void add_creation_time(const AVDictionary* tags, std::vector<ClockReading>& clocks) {
  const std::optional<std::string> text = tag(tags, "creation_time");
  if (!text) return;
  // libav writes a Z behind whatever the container holds.
  if (const std::optional<Stamp> stamp = parse_stamp(*text)) {
    add(clocks, container_reading(*stamp, ClockKind::utc, *text));
  }
}

/// Broadcast WAV (EBU Tech 3285): local date and time in two fields, which libav calls "date" and "creation_time".
void add_origination(const AVDictionary* tags, std::vector<ClockReading>& clocks) {
  const std::optional<std::string> date = tag(tags, "date");
  const std::optional<std::string> time = tag(tags, "creation_time");
  if (!date || !time) return;
  if (const std::optional<Stamp> stamp = parse_stamp(*date + " " + *time)) {
    add(clocks, container_reading(*stamp, ClockKind::local, *date + " " + *time));
  }
}

std::optional<ClockReading> file_time(const std::filesystem::path& path) {
  struct stat status {};
  if (::stat(path.c_str(), &status) != 0) return std::nullopt;
  const Length since = std::chrono::seconds{status.st_mtim.tv_sec} + Length{status.st_mtim.tv_nsec};
  if (status.st_mtim.tv_sec <= 0 || !within_reach(since)) return std::nullopt;
  // FAT keeps even seconds only.
  const bool whole = status.st_mtim.tv_nsec == 0;
  const Length resolution = whole ? std::chrono::seconds{status.st_mtim.tv_sec % 2 == 0 ? 2 : 1} : Length{10'000'000};
  return ClockReading{ClockSource::file_time,  ClockKind::utc, ClockEdge::end, since, resolution,
                      to_text(WallTime{since})};
}

}  // namespace

std::vector<ClockReading> clocks_of(const Source& source, const std::filesystem::path& path) {
  std::vector<ClockReading> clocks;
  add_timecodes(source, clocks);
  std::vector<const AVDictionary*> places{source.format().metadata};
  for (const AVStream* stream : {source.pictures(), source.sound()}) {
    if (stream != nullptr) places.push_back(stream->metadata);
  }
  for (const AVDictionary* tags : places) add_dates(tags, Zone::written, clocks);
  for (const AVDictionary* tags : places) add_creation_time(tags, clocks);
  add_origination(source.format().metadata, clocks);
  for (const AVDictionary* tags : places) add_dates(tags, Zone::missing, clocks);
  add(clocks, clock_in_name(path.filename().string()));
  add(clocks, file_time(path));
  return clocks;
}

}  // namespace jigtime::media
