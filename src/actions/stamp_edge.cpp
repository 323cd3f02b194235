#include "actions/stamp_edge.h"

#include <algorithm>
#include <optional>

namespace jigtime::actions {
namespace {

using std::chrono::seconds;

/// A device stamps a second or two after the key press, and closes a file some time after its last picture.
constexpr Length late = seconds{3};

ClockReading* container_stamp(Footage& file) {
  const auto found = std::find_if(file.info.clocks.begin(), file.info.clocks.end(), [](const ClockReading& r) {
    return r.source == ClockSource::container && r.kind != ClockKind::time_of_day;
  });
  return found == file.info.clocks.end() ? nullptr : &*found;
}

const ClockReading* reading_of(const Footage& file, ClockSource source) {
  const auto& clocks = file.info.clocks;
  const auto found = std::find_if(clocks.begin(), clocks.end(), [&](const ClockReading& r) {
    return r.source == source && r.kind != ClockKind::time_of_day;
  });
  return found == clocks.end() ? nullptr : &*found;
}

/// Whether the difference of two clocks is `wanted`, whatever zones they keep: zones lie quarters of an hour apart, and
/// no two more than 26 hours.
bool but_for_zones(Length difference, Length wanted, Length tolerance) {
  constexpr Length quarter = std::chrono::minutes{15};
  const Length off = difference - wanted;
  if (std::chrono::abs(off) > std::chrono::hours{26} + tolerance) return false;
  const Length rest = std::chrono::abs(off % quarter);
  return std::min(rest, quarter - rest) <= tolerance;
}

struct Votes {
  int begin = 0;
  int end = 0;
  void add(std::optional<ClockEdge> told) {
    if (told) ++(*told == ClockEdge::begin ? begin : end);
  }
};

std::optional<ClockEdge> one_of(bool begin, bool end) {
  if (begin == end) return std::nullopt;
  return begin ? ClockEdge::begin : ClockEdge::end;
}

std::optional<ClockEdge> told_by_name(const Footage& file, const ClockReading& stamp) {
  const ClockReading* name = reading_of(file, ClockSource::name);
  if (name == nullptr) return std::nullopt;
  const Length after = stamp.since_epoch - name->since_epoch;
  const Length tolerance = late + (stamp.resolution + name->resolution) / 2;
  return one_of(but_for_zones(after, Length{0}, tolerance), but_for_zones(after, file.info.length, tolerance));
}

std::optional<ClockEdge> told_by_file_time(const Footage& file, const ClockReading& stamp) {
  const ClockReading* written = reading_of(file, ClockSource::file_time);
  if (written == nullptr) return std::nullopt;
  const Length after = written->since_epoch - stamp.since_epoch;
  const Length tolerance = late + (stamp.resolution + written->resolution) / 2;
  const bool at_stamp = but_for_zones(after, Length{0}, tolerance);
  if (at_stamp || !but_for_zones(after, file.info.length, tolerance)) return std::nullopt;
  return ClockEdge::begin;
}

std::optional<ClockEdge> told_by_overlap(const Footage& a, const ClockReading& a_stamp, const Footage& b,
                                         const ClockReading& b_stamp) {
  if (a_stamp.kind != b_stamp.kind || a_stamp.since_epoch == b_stamp.since_epoch) return std::nullopt;
  const bool in_order = a_stamp.since_epoch < b_stamp.since_epoch;
  const Length apart = std::chrono::abs(b_stamp.since_epoch - a_stamp.since_epoch);
  const Length first = (in_order ? a : b).info.length;
  const Length second = (in_order ? b : a).info.length;
  const Length tolerance = late + (a_stamp.resolution + b_stamp.resolution) / 2;
  return one_of(apart + tolerance >= first && apart + tolerance < second,
                apart + tolerance >= second && apart + tolerance < first);
}

Votes votes_of(const std::vector<Footage*>& files) {
  Votes votes;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const ClockReading* stamp = container_stamp(*files[i]);
    if (stamp == nullptr) continue;
    votes.add(told_by_name(*files[i], *stamp));
    votes.add(told_by_file_time(*files[i], *stamp));
    for (std::size_t k = 0; k < i; ++k) {
      const ClockReading* other = container_stamp(*files[k]);
      if (other != nullptr) votes.add(told_by_overlap(*files[i], *stamp, *files[k], *other));
    }
  }
  return votes;
}

}  // namespace

void settle_edges(std::vector<Footage>& footage) {
  // Two devices of different make may lie in one folder: files of one form speak for each other only.
  std::vector<std::vector<Footage*>> forms;
  for (Footage& file : footage) {
    const auto known = std::find_if(forms.begin(), forms.end(), [&](const std::vector<Footage*>& files) {
      return same_form(files.front()->info, file.info);
    });
    if (known == forms.end()) {
      forms.push_back({&file});
    } else {
      known->push_back(&file);
    }
  }
  for (const std::vector<Footage*>& files : forms) {
    const Votes votes = votes_of(files);
    if (votes.end < 2 || votes.begin * 9 > votes.end) continue;
    for (Footage* file : files) {
      if (ClockReading* stamp = container_stamp(*file)) stamp->edge = ClockEdge::end;
    }
  }
}

}  // namespace jigtime::actions
