// The aligned cuts as OpenTimelineIO: https://opentimelineio.readthedocs.io, "Serialized Schema".
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "report/clean.h"
#include "report/cut_list.h"
#include "report/formats.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using Json = nlohmann::ordered_json;

Json rational(std::int64_t value, const PictureRate& rate) {
  return {{"OTIO_SCHEMA", "RationalTime.1"}, {"rate", rate.per_second()}, {"value", static_cast<double>(value)}};
}

Json range(std::int64_t from, std::int64_t count, const PictureRate& rate) {
  return {{"OTIO_SCHEMA", "TimeRange.1"}, {"duration", rational(count, rate)}, {"start_time", rational(from, rate)}};
}

/// What every item of a track has.
Json item(std::string_view schema, const std::string& name, Json source_range) {
  return {{"OTIO_SCHEMA", schema},    {"metadata", Json::object()}, {"name", name},   {"source_range", source_range},
          {"effects", Json::array()}, {"markers", Json::array()},   {"enabled", true}};
}

/// RFC 3986, a URL where the whole path is known, else a relative reference: everything but letters, digits and - . _ ~
/// / as % and two digits.
std::string file_url(const std::filesystem::path& path) {
  constexpr std::string_view kept = "-._~/";
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string url = path.is_absolute() ? "file://" : "";
  for (const char c : path.generic_string()) {
    const auto byte = static_cast<unsigned char>(c);
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    if (letter || kept.find(c) != std::string_view::npos) {
      url += c;
    } else {
      url.append("%").append(1, digits[byte >> 4U]).append(1, digits[byte & 15U]);
    }
  }
  return url;
}

Json reference_of(const Cut& cut, const PictureRate& timeline_rate) {
  const PictureRate rate = cut.clip->pictures && cut.clip->pictures->picture_length > Length{0}
                               ? rate_of(cut.clip->pictures->picture_length)
                               : timeline_rate;
  return {{"OTIO_SCHEMA", "ExternalReference.1"},
          {"metadata", Json::object()},
          {"name", one_line(cut.part->path.filename().string())},
          {"available_range", range(0, rate.at(cut.part->length), rate)},
          {"available_image_bounds", nullptr},
          {"target_url", file_url(cut.part->path)}};
}

Json clip_of(const Cut& cut, const PictureRate& rate) {
  Json clip = item("Clip.2", one_line(cut.part->path.filename().string()), range(cut.file_from, cut.count, rate));
  clip["metadata"]["jigtime"] = {{"basis", to_text(cut.placement->basis)},
                                 {"clip_from_s", to_seconds(cut.piece->clip_from)},
                                 {"clip_to_s", to_seconds(cut.piece->clip_to)},
                                 {"session_start_s", to_seconds(cut.piece->session_start)},
                                 {"rate_ppm", static_cast<double>(cut.piece->rate_ppb) / 1000},
                                 {"sigma_s", to_seconds(cut.piece->sigma)},
                                 {"part_clip_from_s", to_seconds(cut.part->clip_from)}};
  clip["media_references"] = {{"DEFAULT_MEDIA", reference_of(cut, rate)}};
  clip["active_media_reference_key"] = "DEFAULT_MEDIA";
  return clip;
}

Json track_of(const CutTrack& cuts, const PictureRate& rate) {
  Json track = item("Track.1", cuts.camera, nullptr);
  track["kind"] = cuts.sound ? "Audio" : "Video";
  track["children"] = Json::array();
  std::int64_t at = 0;
  for (const Cut& cut : cuts.cuts) {
    if (cut.from > at) track["children"].push_back(item("Gap.1", "", range(0, cut.from - at, rate)));
    track["children"].push_back(clip_of(cut, rate));
    at = cut.from + cut.count;
  }
  return track;
}

Json marker(const std::string& name, const std::string& comment, std::string_view colour, Json marked) {
  return {{"OTIO_SCHEMA", "Marker.2"}, {"metadata", Json::object()}, {"name", name},
          {"color", colour},           {"comment", comment},         {"marked_range", marked}};
}

Json markers_of(const Timeline& timeline, const PictureRate& rate) {
  Json markers = Json::array();
  int number = 0;
  for (const journal::Span& span : timeline.record.spans) {
    ++number;
    if (span.end <= span.begin) continue;
    const std::int64_t from = rate.at(span.begin.time_since_epoch());
    const std::int64_t to = rate.at(span.end.time_since_epoch());
    const journal::Task* task = span.task ? timeline.known.task(*span.task) : nullptr;
    const bool pause = span.kind == journal::SpanKind::pause;
    const std::string what = task != nullptr ? one_line(task->title) : pause ? "Break" : "Work without a task";
    markers.push_back(marker("S" + std::to_string(number) + " " + what, clean(span.note), pause ? "YELLOW" : "GREEN",
                             range(from, std::max<std::int64_t>(1, to - from), rate)));
  }
  number = 0;
  for (const journal::Mark& mark : timeline.record.marks) {
    markers.push_back(marker("M" + std::to_string(++number), clean(mark.note), "BLUE",
                             range(rate.at(mark.at.time_since_epoch()), 1, rate)));
  }
  return markers;
}

}  // namespace

std::string to_otio(const Timeline& timeline) {
  const CutList list = cut_list_of(timeline);
  Json stack = item("Stack.1", "tracks", nullptr);
  stack["markers"] = markers_of(timeline, list.rate);
  stack["children"] = Json::array();
  for (const CutTrack& track : list.tracks) stack["children"].push_back(track_of(track, list.rate));
  const Json document{{"OTIO_SCHEMA", "Timeline.1"},
                      {"metadata", {{"jigtime", {{"session", to_text(timeline.record.session.date)}}}}},
                      {"name", one_line(clean(timeline.build.name)) + " " + to_text(timeline.record.session.date)},
                      {"global_start_time", nullptr},
                      {"tracks", stack}};
  return document.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace jigtime::report
