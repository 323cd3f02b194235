#include "journal/hours.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

#include "journal/coverage.h"

namespace jigtime::journal {
namespace {

/// What is the same for everybody in one session.
struct Day {
  Coverage filmed;
  Coverage paused;            ///< breaks that name nobody, so everybody's
  Coverage filmed_or_paused;  ///< what is in neither is worked without a camera, if it is worked
};

struct Worked {
  Length worked{0};
  Length unfilmed{0};
};

Worked worked_in(const Day& day, SessionTime begin, SessionTime end) {
  const Length length = end - begin;
  return {length - day.paused.within(begin, end), length - day.filmed_or_paused.within(begin, end)};
}

Worked worked_in(const Day& day, const Coverage& times) {
  Worked sum;
  for (const SessionRange& range : times.ranges()) {
    const Worked worked = worked_in(day, range.begin(), range.end());
    sum.worked += worked.worked;
    sum.unfilmed += worked.unfilmed;
  }
  return sum;
}

/// The span that wins a person's moment comes first: later begin, then shorter, then larger id.
struct InnerFirst {
  bool operator()(const Span* a, const Span* b) const {
    return std::tuple{b->begin, a->end - a->begin, b->id} < std::tuple{a->begin, b->end - b->begin, a->id};
  }
};

/// A work span or a break of one person's begins or ends.
struct Boundary {
  SessionTime at;
  const Span* span;
  enum class Edge { begin, end } edge;
};

/// A stretch of one person's time, up to the next boundary, with the span that has it.
struct Stretch {
  SessionTime begin;
  SessionTime end;
  const Span* span;
};

/// Walks one person's boundaries in order and gives each moment to the innermost work span, breaks out.
std::vector<Stretch> stretches_of(std::vector<Boundary> boundaries) {
  std::sort(boundaries.begin(), boundaries.end(), [](const Boundary& a, const Boundary& b) { return a.at < b.at; });
  std::vector<Stretch> stretches;
  std::multiset<const Span*, InnerFirst> at_work;
  int breaks = 0;
  for (std::size_t i = 0; i < boundaries.size(); ++i) {
    const Boundary& boundary = boundaries[i];
    const bool begins = boundary.edge == Boundary::Edge::begin;
    if (boundary.span->kind == SpanKind::pause) {
      breaks += begins ? 1 : -1;
    } else if (begins) {
      at_work.insert(boundary.span);
    } else {
      at_work.erase(at_work.find(boundary.span));
    }
    if (breaks > 0 || at_work.empty() || i + 1 == boundaries.size()) continue;
    const SessionTime next = boundaries[i + 1].at;
    if (boundary.at < next) stretches.push_back({boundary.at, next, *at_work.begin()});
  }
  return stretches;
}

Day day_of(const SessionRecord& record) {
  std::vector<SessionRange> filmed;
  for (const Placement& placement : record.placements) {
    for (const Piece& piece : placement.pieces) {
      if (const auto range = SessionRange::make(piece.session_start, piece.session_end())) filmed.push_back(*range);
    }
  }
  std::vector<SessionRange> paused;
  for (const Span& span : record.spans) {
    if (span.kind != SpanKind::pause || !span.people.empty()) continue;
    if (const auto range = SessionRange::make(span.begin, span.end)) paused.push_back(*range);
  }
  Day day{Coverage{std::move(filmed)}, Coverage{std::move(paused)}, {}};
  day.filmed_or_paused = day.filmed.joined_with(day.paused);
  return day;
}

Coverage tagged_in(const SessionRecord& record) {
  std::vector<SessionRange> ranges;
  for (const Span& span : record.spans) {
    // What the cameras saw meanwhile was something else.
    if (span.off_camera) continue;
    if (const auto range = SessionRange::make(span.begin, span.end)) ranges.push_back(*range);
  }
  return Coverage{std::move(ranges)};
}

std::map<PersonId, std::vector<Boundary>> boundaries_by_person(const std::vector<Span>& spans) {
  std::map<PersonId, std::vector<Boundary>> boundaries;
  for (const Span& span : spans) {
    if (span.end <= span.begin) continue;
    for (auto person = span.people.begin(); person != span.people.end(); ++person) {
      if (std::find(span.people.begin(), person, *person) != person) continue;
      std::vector<Boundary>& theirs = boundaries[*person];
      theirs.push_back({span.begin, &span, Boundary::Edge::begin});
      theirs.push_back({span.end, &span, Boundary::Edge::end});
    }
  }
  return boundaries;
}

using RowKey = std::tuple<SessionId, std::optional<TaskId>, PersonId>;

std::vector<HoursRow> rows_of(const std::map<RowKey, Worked>& sums) {
  std::vector<HoursRow> rows;
  for (const auto& [key, sum] : sums) {
    if (sum.worked == Length{0}) continue;
    rows.push_back({std::get<0>(key), std::get<1>(key), std::get<2>(key), sum.worked, sum.unfilmed});
  }
  return rows;
}

Length unit_of(Rounding rounding) {
  switch (rounding) {
    case Rounding::none: return Length{1};
    case Rounding::minute: return std::chrono::minutes{1};
    case Rounding::tenth_hour: return std::chrono::minutes{6};
    case Rounding::quarter_hour: return std::chrono::minutes{15};
  }
  return Length{1};
}

}  // namespace

Hours count_hours(const SessionRecord& record) {
  const Day day = day_of(record);
  Hours hours;
  std::map<RowKey, Worked> sums;
  std::vector<SessionRange> anybody;
  std::vector<SessionRange> on_camera;
  for (auto& [person, boundaries] : boundaries_by_person(record.spans)) {
    for (const Stretch& stretch : stretches_of(std::move(boundaries))) {
      const Worked worked = worked_in(day, stretch.begin, stretch.end);
      Worked& sum = sums[{record.session.id, stretch.span->task, person}];
      sum.worked += worked.worked;
      sum.unfilmed += stretch.span->off_camera ? worked.worked : worked.unfilmed;
      hours.person_time += worked.worked;
      anybody.push_back(*SessionRange::make(stretch.begin, stretch.end));
      if (!stretch.span->off_camera) on_camera.push_back(anybody.back());
    }
  }
  hours.rows = rows_of(sums);
  const Worked seen = worked_in(day, Coverage{std::move(on_camera)});
  hours.elapsed = worked_in(day, Coverage{std::move(anybody)}).worked;
  hours.unfilmed = hours.elapsed - (seen.worked - seen.unfilmed);
  hours.untagged = day.filmed.total() - tagged_in(record).shared_with(day.filmed);
  return hours;
}

Hours sum(const std::vector<Hours>& parts) {
  Hours all;
  std::map<RowKey, Worked> sums;
  for (const Hours& part : parts) {
    for (const HoursRow& row : part.rows) {
      Worked& sum = sums[{row.session, row.task, row.person}];
      sum.worked += row.worked;
      sum.unfilmed += row.unfilmed;
    }
    all.person_time += part.person_time;
    all.elapsed += part.elapsed;
    all.untagged += part.untagged;
    all.unfilmed += part.unfilmed;
  }
  all.rows = rows_of(sums);
  return all;
}

std::vector<Length> rounded_to_add_up(const std::vector<Length>& lengths, Rounding rounding) {
  const Length unit = unit_of(rounding);
  const Length total = std::accumulate(lengths.begin(), lengths.end(), Length{0});
  std::int64_t units_left = scaled(total.count(), 1, unit.count());
  std::vector<Length> rounded;
  for (const Length length : lengths) {
    rounded.push_back(length / unit * unit);
    units_left -= length / unit;
  }
  std::vector<std::size_t> order(lengths.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return lengths[a] % unit > lengths[b] % unit; });
  for (std::size_t i = 0; i < order.size() && units_left > 0; ++i, --units_left) rounded[order[i]] += unit;
  return rounded;
}

}  // namespace jigtime::journal
