#include "actions/stamp_edge.h"

#include <algorithm>
#include <optional>

namespace jigtime::actions {
namespace {

using std::chrono::seconds;

/// A device stamps a second or two after the key press, and closes a file some time after its last picture.
constexpr Length late = seconds{3};

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

Length tolerance_of(const ClockReading& a, const ClockReading& b) { return late + (a.resolution + b.resolution) / 2; }

/// What a clock of the same file that marks a known edge tells of the stamp's.
std::optional<ClockEdge> told_by(const Footage& file, const ClockReading& stamp, ClockSource source) {
  const ClockReading* other = reading_of(file.info, source);
  if (other == nullptr) return std::nullopt;
  const bool other_ends = other->edge == ClockEdge::end;
  const Length apart = stamp.since_epoch - other->since_epoch;
  const Length tolerance = tolerance_of(stamp, *other);
  const bool with_it = but_for_zones(apart, Length{0}, tolerance);
  const bool a_length_off = but_for_zones(other_ends ? -apart : apart, file.info.length, tolerance);
  return other_ends ? one_of(a_length_off, with_it) : one_of(with_it, a_length_off);
}

/// What two files tell of which `second` is stamped next.
std::optional<ClockEdge> told_by_overlap(const Footage& first, const Footage& second) {
  const ClockReading& a = *reading_of(first.info, ClockSource::container);
  const ClockReading& b = *reading_of(second.info, ClockSource::container);
  // The parts of a recording may all carry its stamp.
  if (a.kind != b.kind || a.since_epoch == b.since_epoch) return std::nullopt;
  const Length reach = b.since_epoch - a.since_epoch + tolerance_of(a, b);
  return one_of(reach >= first.info.length, reach >= second.info.length);
}

/// Precondition: each has a container stamp, and they are in its order.
Votes votes_of(const std::vector<Footage*>& files) {
  Votes votes;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const ClockReading& stamp = *reading_of(files[i]->info, ClockSource::container);
    votes.add(told_by(*files[i], stamp, ClockSource::name));
    const auto written = told_by(*files[i], stamp, ClockSource::file_time);
    if (written == ClockEdge::begin) votes.add(written);
    // Neighbours only: where a clock started anew, one long file overlaps many.
    if (i > 0) votes.add(told_by_overlap(*files[i - 1], *files[i]));
  }
  return votes;
}

}  // namespace

void settle_edges(std::vector<Footage>& footage) {
  // Two devices of different make may lie in one folder: files of one form speak for each other only.
  std::vector<std::vector<Footage*>> forms;
  for (Footage& file : footage) {
    if (reading_of(file.info, ClockSource::container) == nullptr) continue;
    const auto known = std::find_if(forms.begin(), forms.end(), [&](const std::vector<Footage*>& files) {
      return same_form(files.front()->info, file.info);
    });
    (known == forms.end() ? forms.emplace_back() : *known).push_back(&file);
  }
  for (std::vector<Footage*>& files : forms) {
    const auto stamped = [](const Footage* file) {
      return reading_of(file->info, ClockSource::container)->since_epoch;
    };
    std::stable_sort(files.begin(), files.end(),
                     [&](const Footage* a, const Footage* b) { return stamped(a) < stamped(b); });
    const Votes votes = votes_of(files);
    if (votes.end < 2 || votes.begin * 9 > votes.end) continue;
    for (Footage* file : files) {
      auto& clocks = file->info.clocks;
      std::find_if(clocks.begin(), clocks.end(), [](const ClockReading& r) {
        return r.source == ClockSource::container;
      })->edge = ClockEdge::end;
    }
  }
}

}  // namespace jigtime::actions
