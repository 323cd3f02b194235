#include "report/day.h"

#include <algorithm>

#include "base/text.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Clip;
using journal::Placement;
using journal::Span;

Length picture_of(const Clip& clip) {
  if (clip.pictures && clip.pictures->picture_length > Length{0}) return clip.pictures->picture_length;
  return usual_picture;
}

std::vector<std::string> file_names(const Clip& clip) {
  std::vector<std::string> names;
  for (const journal::Part& part : clip.parts) names.push_back(one_line(part.path.filename().string()));
  return names;
}

std::string camera_name(const journal::Register& known, journal::CameraId id) {
  const journal::Camera* camera = known.camera(id);
  return camera == nullptr ? "camera without a name" : one_line(camera->name);
}

void append_lines(std::vector<std::string>& to, const std::vector<std::string>& from) {
  for (const std::string& text : from) to.push_back(one_line(text));
}

/// Says of the two longest overlaps whose sound they are shared with, and counts the rest.
std::string evidence_words(const journal::SessionRecord& record, std::vector<journal::Evidence> evidence) {
  constexpr std::size_t named = 2;
  std::stable_sort(evidence.begin(), evidence.end(),
                   [](const auto& a, const auto& b) { return a.overlap > b.overlap; });
  std::vector<std::string> words;
  for (std::size_t i = 0; i < std::min(named, evidence.size()); ++i) {
    const Clip* with = record.clip(evidence[i].with);
    const std::string name = with == nullptr ? "a clip no longer here" : one_line(with->name());
    words.push_back(length_words(evidence[i].overlap) + " with " + name);
  }
  if (evidence.size() > named) words.push_back(std::to_string(evidence.size() - named) + " more");
  return words.empty() ? "" : "Sound in common: " + listed(words) + ".";
}

/// Nothing when no piece has any length on the session clock.
std::optional<ClipBar> bar_of(const journal::SessionRecord& record, const Clip& clip, const Placement& placement) {
  ClipBar bar;
  bar.id = clip.id;
  bar.name = one_line(clip.name());
  bar.files = file_names(clip);
  bar.basis = placement.basis;
  bar.sigma = told_sigma(clip, placement);
  for (const Piece& piece : placement.pieces) {
    const auto range = SessionRange::make(piece.session_start, piece.session_end());
    if (!range) continue;
    bar.pieces.push_back(*range);
    if (piece.sigma > bar.sigma) bar.vague.push_back({*range, piece.sigma});
  }
  if (bar.pieces.empty() || bar.basis == journal::Basis::none) return std::nullopt;
  std::sort(bar.pieces.begin(), bar.pieces.end());
  const bool told_by_clock = bar.basis == journal::Basis::clock;
  bar.doubt = told_by_clock || bar.sigma > picture_of(clip) ? Doubt::large : Doubt::small;
  append_lines(bar.notes, clip.notes);
  append_lines(bar.notes, placement.notes);
  const std::string evidence = evidence_words(record, placement.evidence);
  if (!evidence.empty()) bar.notes.push_back(evidence);
  return bar;
}

UnplacedClip unplaced_of(const Clip& clip, const Placement* placement, std::string camera) {
  UnplacedClip row{std::move(camera), one_line(clip.name()), file_names(clip), clip.length, {}};
  if (placement != nullptr) {
    for (const std::string& note : placement->notes) row.why += (row.why.empty() ? "" : " ") + one_line(note);
  }
  if (row.why.empty()) {
    row.why =
        placement == nullptr ? "Not lined up yet." : "No sound in common with another clip and no clock to go by.";
  }
  return row;
}

/// Stretches between consecutive ranges that nothing covers, with the index of the range on either side.
struct Gap {
  SessionRange range;
  std::size_t before;
  std::size_t after;
};

/// Precondition: ordered by begin.
std::vector<Gap> gaps_between(const std::vector<SessionRange>& ranges) {
  std::vector<Gap> gaps;
  std::size_t furthest = 0;
  for (std::size_t i = 1; i < ranges.size(); ++i) {
    if (const auto gap = SessionRange::make(ranges[furthest].end(), ranges[i].begin()))
      gaps.push_back({*gap, furthest, i});
    if (ranges[i].end() > ranges[furthest].end()) furthest = i;
  }
  return gaps;
}

void find_dropouts(CameraLane& lane) {
  std::vector<SessionRange> hulls;
  for (const ClipBar& clip : lane.clips) {
    hulls.push_back(*SessionRange::make(clip.begin(), clip.end()));
    for (const Gap& gap : gaps_between(clip.pieces)) {
      lane.dropouts.push_back({gap.range, DropoutKind::inside_clip, {clip.number}, clip.doubt, clip.row});
    }
  }
  for (const Gap& gap : gaps_between(hulls)) {
    const ClipBar& before = lane.clips[gap.before];
    const ClipBar& after = lane.clips[gap.after];
    const bool vague = before.doubt == Doubt::large || after.doubt == Doubt::large;
    lane.dropouts.push_back(
        {gap.range, DropoutKind::between_clips, {before.number, after.number}, vague ? Doubt::large : Doubt::small, 0});
  }
  std::sort(lane.dropouts.begin(), lane.dropouts.end(),
            [](const Dropout& a, const Dropout& b) { return a.range < b.range; });
}

void order_lane(CameraLane& lane, int& number) {
  std::stable_sort(lane.clips.begin(), lane.clips.end(),
                   [](const ClipBar& a, const ClipBar& b) { return a.begin() < b.begin(); });
  std::vector<SessionRange> hulls;
  for (ClipBar& clip : lane.clips) {
    clip.number = ++number;
    hulls.push_back(*SessionRange::make(clip.begin(), clip.end()));
  }
  const std::vector<int> rows = stacked(hulls);
  for (std::size_t i = 0; i < rows.size(); ++i) lane.clips[i].row = rows[i];
  find_dropouts(lane);
}

std::optional<Length> clock_ahead(const journal::SessionRecord& record, journal::CameraId id) {
  for (const journal::CameraClock& clock : record.clocks) {
    if (clock.camera == id && clock.known) return clock.offset;
  }
  return std::nullopt;
}

void add_cameras(const Timeline& timeline, Day& day) {
  std::vector<journal::CameraId> order;
  const auto lane_for = [&](journal::CameraId id) -> CameraLane& {
    const auto at = std::find(order.begin(), order.end(), id);
    if (at != order.end()) return day.cameras[static_cast<std::size_t>(at - order.begin())];
    order.push_back(id);
    const bool is_reference = timeline.record.session.reference == id;
    return day.cameras.emplace_back(
        CameraLane{camera_name(timeline.known, id), is_reference, clock_ahead(timeline.record, id), {}, {}});
  };
  for (const Clip& clip : timeline.record.clips) {
    CameraLane& lane = lane_for(clip.camera);
    const Placement* placement = timeline.record.placement(clip.id);
    std::optional<ClipBar> bar = placement == nullptr ? std::nullopt : bar_of(timeline.record, clip, *placement);
    if (bar) {
      lane.clips.push_back(*std::move(bar));
    } else {
      day.unplaced.push_back(unplaced_of(clip, placement, lane.name));
    }
  }
  for (const journal::Unreadable& file : timeline.record.unreadable) lane_for(file.camera);
  int number = 0;
  for (CameraLane& lane : day.cameras) order_lane(lane, number);
}

SpanBar bar_of(const Timeline& timeline, const Span& span, int number, SessionRange range) {
  const journal::Task* task = span.task ? timeline.known.task(*span.task) : nullptr;
  std::string title = span.kind == journal::SpanKind::pause ? "Break" : "Work without a task";
  if (task != nullptr) title = one_line(task->title);
  return {number, span.kind, range, std::move(title), one_line(span.note), 0, span.id};
}

void add_people(const Timeline& timeline, Day& day) {
  std::vector<PeopleRow> rows;
  for (const journal::Person& person : timeline.known.people) {
    rows.push_back({one_line(person.name), std::string{to_text(person.role)}, {}});
  }
  PeopleRow everybody{"Everybody", "breaks", {}};
  PeopleRow nobody{"Nobody named", "no hours", {}};
  const auto& people = timeline.known.people;
  int number = 0;
  for (const Span& span : timeline.record.spans) {
    ++number;
    const auto range = SessionRange::make(span.begin, span.end);
    if (!range) continue;
    const SpanBar bar = bar_of(timeline, span, number, *range);
    if (span.people.empty()) (span.kind == journal::SpanKind::pause ? everybody : nobody).spans.push_back(bar);
    for (std::size_t i = 0; i < people.size(); ++i) {
      const bool named = std::find(span.people.begin(), span.people.end(), people[i].id) != span.people.end();
      if (named) rows[i].spans.push_back(bar);
    }
  }
  rows.push_back(std::move(nobody));
  rows.push_back(std::move(everybody));
  for (PeopleRow& row : rows) {
    if (!row.spans.empty()) day.people.push_back(std::move(row));
  }
}

void stack_spans(PeopleRow& row) {
  std::stable_sort(row.spans.begin(), row.spans.end(),
                   [](const SpanBar& a, const SpanBar& b) { return a.range.begin() < b.range.begin(); });
  std::vector<SessionRange> ranges;
  for (const SpanBar& bar : row.spans) ranges.push_back(bar.range);
  const std::vector<int> rows = stacked(ranges);
  for (std::size_t i = 0; i < rows.size(); ++i) row.spans[i].row = rows[i];
}

}  // namespace

Length told_sigma(const Clip& clip, const Placement& placement) {
  const bool mostly_sure = usual_sigma(placement.pieces) <= picture_of(clip);
  Length largest{0};
  for (const Piece& piece : placement.pieces) {
    if (!mostly_sure || piece.sigma <= picture_of(clip)) largest = std::max(largest, piece.sigma);
  }
  return largest;
}

SessionTime ClipBar::end() const {
  SessionTime last = pieces.front().end();
  for (const SessionRange& piece : pieces) last = std::max(last, piece.end());
  return last;
}

std::vector<int> stacked(const std::vector<SessionRange>& ranges) {
  std::vector<SessionTime> row_ends;
  std::vector<int> rows;
  for (const SessionRange& range : ranges) {
    const auto free =
        std::find_if(row_ends.begin(), row_ends.end(), [&](SessionTime end) { return end <= range.begin(); });
    rows.push_back(static_cast<int>(free - row_ends.begin()));
    if (free == row_ends.end()) {
      row_ends.push_back(range.end());
    } else {
      *free = range.end();
    }
  }
  return rows;
}

Day day_of(const Timeline& timeline) {
  Day day;
  add_cameras(timeline, day);
  add_people(timeline, day);
  for (PeopleRow& row : day.people) stack_spans(row);
  int number = 0;
  for (const journal::Mark& mark : timeline.record.marks) {
    day.marks.push_back({++number, mark.at, one_line(mark.note), mark.id});
  }
  return day;
}

std::vector<SessionRange> shown_ranges(const Day& day) {
  std::vector<SessionRange> ranges;
  for (const CameraLane& lane : day.cameras) {
    for (const ClipBar& clip : lane.clips) ranges.insert(ranges.end(), clip.pieces.begin(), clip.pieces.end());
  }
  for (const PeopleRow& row : day.people) {
    for (const SpanBar& bar : row.spans) ranges.push_back(bar.range);
  }
  for (const MarkFlag& mark : day.marks) ranges.push_back(*SessionRange::make(mark.at, mark.at + Length{1}));
  std::sort(ranges.begin(), ranges.end());
  return ranges;
}

int strips_wanted(const Day& day) {
  constexpr std::size_t legible = 12;  // bars side by side that can each hold a number
  std::size_t busiest = 0;
  for (const CameraLane& lane : day.cameras) busiest = std::max(busiest, lane.clips.size());
  for (const PeopleRow& row : day.people) busiest = std::max(busiest, row.spans.size());
  return static_cast<int>(std::clamp<std::size_t>(busiest / legible, 3, 16));
}

}  // namespace jigtime::report
