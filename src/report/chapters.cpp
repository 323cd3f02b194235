#include "report/chapters.h"

#include <algorithm>

#include "report/clean.h"
#include "report/day.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Clip;
using journal::Placement;
using journal::Span;

/// A mark is a moment; players need something to land on.
constexpr Length mark_length = std::chrono::seconds{1};

std::string title_of(const Timeline& timeline, const Span& span) {
  const journal::Task* task = span.task ? timeline.known.task(*span.task) : nullptr;
  if (task != nullptr) return one_line(task->title);
  return span.kind == journal::SpanKind::pause ? "Break" : "Work without a task";
}

/// Every moment at which a span begins or ends.
std::vector<SessionTime> borders_of(const std::vector<Span>& spans) {
  std::vector<SessionTime> borders;
  for (const Span& span : spans) {
    if (span.end <= span.begin) continue;
    borders.push_back(span.begin);
    borders.push_back(span.end);
  }
  std::sort(borders.begin(), borders.end());
  borders.erase(std::unique(borders.begin(), borders.end()), borders.end());
  return borders;
}

/// Of the spans that hold the moment the one that began last, on a tie the shortest.
const Span* innermost(const std::vector<Span>& spans, SessionTime at) {
  const Span* found = nullptr;
  for (const Span& span : spans) {
    if (at < span.begin || at >= span.end) continue;
    const bool inner = found == nullptr || span.begin > found->begin ||
                       (span.begin == found->begin && span.end - span.begin < found->end - found->begin);
    if (inner) found = &span;
  }
  return found;
}

/// Where a stretch of session time lies in one clip; nothing where the clip did not run.
std::optional<ClipRange> in_clip(const Placement& placement, SessionRange range) {
  std::optional<ClipRange> found;
  for (const Piece& piece : placement.pieces) {
    const auto held = SessionRange::make(piece.session_start, piece.session_end());
    const auto shared = held ? held->intersection(range) : std::nullopt;
    if (!shared) continue;
    const ClipTime begin = found ? found->begin() : piece.to_clip(shared->begin());
    if (const auto grown = ClipRange::make(begin, piece.to_clip(shared->end()))) found = grown;
  }
  return found;
}

/// What is told of the whole session, before it is cut into files.
struct Told {
  SessionRange range;
  std::string title;
};

std::vector<Told> told_of(const Timeline& timeline) {
  std::vector<Told> told;
  for (const Chapter& chapter : chapters_of(timeline)) {
    told.push_back({*SessionRange::make(SessionTime{chapter.begin}, SessionTime{chapter.end}), chapter.title});
  }
  int number = 0;
  for (const journal::Mark& mark : timeline.record.marks) {
    std::string title = "Mark M" + std::to_string(++number);
    if (!mark.note.empty()) title += ": " + one_line(mark.note);
    told.push_back({*SessionRange::make(mark.at, mark.at + mark_length), std::move(title)});
  }
  return told;
}

std::vector<Chapter> chapters_in(const std::vector<Told>& told, const Placement& placement, const ClipRange& file) {
  std::vector<Chapter> chapters;
  for (const Told& one : told) {
    const auto place = in_clip(placement, one.range);
    const auto here = place ? place->intersection(file) : std::nullopt;
    if (here) chapters.push_back({here->begin() - file.begin(), here->end() - file.begin(), one.title});
  }
  std::stable_sort(chapters.begin(), chapters.end(),
                   [](const Chapter& a, const Chapter& b) { return a.begin < b.begin; });
  return chapters;
}

}  // namespace

std::vector<Chapter> chapters_of(const Timeline& timeline) {
  const std::vector<Span>& spans = timeline.record.spans;
  const std::vector<SessionTime> borders = borders_of(spans);
  std::vector<Chapter> chapters;
  const Span* last = nullptr;
  for (std::size_t i = 0; i + 1 < borders.size(); ++i) {
    const Span* span = innermost(spans, borders[i]);
    const Length end = borders[i + 1].time_since_epoch();
    if (span != nullptr && span == last) {
      chapters.back().end = end;
    } else if (span != nullptr) {
      chapters.push_back({borders[i].time_since_epoch(), end, title_of(timeline, *span)});
    }
    last = span;
  }
  return chapters;
}

std::vector<Chapter> film_chapters(const Timeline& timeline, SessionRange range, double speed) {
  std::vector<Chapter> chapters;
  const auto in_film = [&](SessionTime at) { return from_seconds(to_seconds(at - range.begin()) / speed); };
  for (const Chapter& chapter : chapters_of(timeline)) {
    const auto whole = SessionRange::make(SessionTime{chapter.begin}, SessionTime{chapter.end});
    const auto shown = whole->intersection(range);
    if (shown) chapters.push_back({in_film(shown->begin()), in_film(shown->end()), chapter.title});
  }
  return chapters;
}

std::optional<SessionRange> filmed_range(const Timeline& timeline) {
  std::optional<SessionRange> all;
  for (const Placement& placement : timeline.record.placements) {
    for (const Piece& piece : placement.pieces) {
      const SessionTime begin = all ? std::min(all->begin(), piece.session_start) : piece.session_start;
      const SessionTime end = all ? std::max(all->end(), piece.session_end()) : piece.session_end();
      if (const auto grown = SessionRange::make(begin, end)) all = grown;
    }
  }
  return all;
}

std::vector<FileChapters> chapters_of_files(const Timeline& timeline) {
  const std::vector<Told> told = told_of(timeline);
  std::vector<FileChapters> files;
  int number = 0;
  for (const Clip& clip : timeline.record.clips) {
    ++number;
    const Placement* placement = timeline.record.placement(clip.id);
    const bool placed = placement != nullptr && !placement->pieces.empty();
    const journal::Camera* camera = timeline.known.camera(clip.camera);
    const std::string name = camera == nullptr ? "camera" : one_line(camera->name);
    for (const journal::Part& part : clip.parts) {
      const auto file = ClipRange::make(part.clip_from, part.clip_from + part.length);
      std::vector<Chapter> chapters = placed && file ? chapters_in(told, *placement, *file) : std::vector<Chapter>{};
      const std::string_view why = !chapters.empty() ? ""
                                   : placed          ? "Nothing was tagged or marked while this file ran."
                                                     : "The file has no place on the session clock.";
      const std::string base = one_line(part.path.filename().string());
      const std::string tag = (number < 10 ? "C0" : "C") + std::to_string(number);
      const std::string of_parts = clip.parts.size() < 2 ? "" : "-" + std::to_string(&part - clip.parts.data() + 1);
      files.push_back({name, base, tag + of_parts + "-" + safe_file_name(name, 40) + "-" + safe_file_name(base),
                       std::move(chapters), std::string{why}});
    }
  }
  return files;
}

}  // namespace jigtime::report
