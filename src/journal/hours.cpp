#include "journal/hours.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <tuple>

#include "journal/coverage.h"

namespace jigtime::journal {
namespace {

/// What is the same for everybody in one session.
struct Shop {
  Coverage filmed;
  Coverage paused;            ///< breaks that name nobody, so everybody's
  Coverage filmed_or_paused;  ///< what is in neither is worked without a camera, if it is worked
};

struct Worked {
  Length worked{0};
  Length unfilmed{0};
};

/// Tells worked time from stretches that come in order.
class Clock {
 public:
  explicit Clock(const Shop& shop) : paused_{shop.paused}, filmed_or_paused_{shop.filmed_or_paused} {}
  Worked worked_in(SessionTime begin, SessionTime end) {
    const Length length = end - begin;
    return {length - paused_.within(begin, end), length - filmed_or_paused_.within(begin, end)};
  }

 private:
  CoverageCursor paused_;
  CoverageCursor filmed_or_paused_;
};

Worked worked_in(const Shop& shop, const Coverage& times) {
  Worked sum;
  Clock clock{shop};
  for (const SessionRange& range : times.ranges()) {
    const Worked worked = clock.worked_in(range.begin(), range.end());
    sum.worked += worked.worked;
    sum.unfilmed += worked.unfilmed;
  }
  return sum;
}

using Ranges = std::vector<const TaggedRange*>;

/// One person's ranges, in order of begin.
struct Claims {
  PersonId person;
  Ranges work;
  Ranges breaks;
};

/// The order of a heap whose top is the range that wins a person's moment: later begin, then shorter, then larger id.
bool outside(const TaggedRange* a, const TaggedRange* b) {
  return std::tuple{a->begin, b->end - b->begin, a->id} < std::tuple{b->begin, a->end - a->begin, b->id};
}

/// Calls `seen(begin, end, range)` for each stretch of one person's time with the innermost work range there, in order.
/// `work` is that person's, in order of begin.
template <class Seen>
void each_stretch(const Ranges& work, Seen seen) {
  Ranges at_work;
  SessionTime now{};
  std::size_t next = 0;
  while (next < work.size() || !at_work.empty()) {
    if (at_work.empty()) now = work[next]->begin;
    for (; next < work.size() && work[next]->begin <= now; ++next) {
      at_work.push_back(work[next]);
      std::push_heap(at_work.begin(), at_work.end(), outside);
    }
    // Those further out may have ended too: that shows when they come to the top.
    while (!at_work.empty() && at_work.front()->end <= now) {
      std::pop_heap(at_work.begin(), at_work.end(), outside);
      at_work.pop_back();
    }
    if (at_work.empty()) continue;
    const TaggedRange& inner = *at_work.front();
    const SessionTime until = next < work.size() ? std::min(inner.end, work[next]->begin) : inner.end;
    seen(now, until, inner);
    now = until;
  }
}

Shop shop_of(const WorkingDay& day) {
  std::vector<SessionRange> paused;
  for (const TaggedRange& range : day.ranges) {
    if (range.kind != SpanKind::pause || range.person_count != 0) continue;
    if (const auto pause = SessionRange::make(range.begin, range.end)) paused.push_back(*pause);
  }
  Shop shop{Coverage{day.filmed}, Coverage{std::move(paused)}, {}};
  shop.filmed_or_paused = shop.filmed.joined_with(shop.paused);
  return shop;
}

Coverage tagged_in(const WorkingDay& day) {
  std::vector<SessionRange> ranges;
  ranges.reserve(day.ranges.size());
  for (const TaggedRange& range : day.ranges) {
    // What the cameras saw meanwhile was something else.
    if (range.off_camera) continue;
    if (const auto tagged = SessionRange::make(range.begin, range.end)) ranges.push_back(*tagged);
  }
  return Coverage{std::move(ranges)};
}

/// Those that end after they begin, in order of begin; mostly they come so.
Ranges in_order(const WorkingDay& day) {
  Ranges ranges;
  ranges.reserve(day.ranges.size());
  for (const TaggedRange& range : day.ranges) {
    if (range.begin < range.end) ranges.push_back(&range);
  }
  const auto earlier = [](const TaggedRange* a, const TaggedRange* b) { return a->begin < b->begin; };
  if (!std::is_sorted(ranges.begin(), ranges.end(), earlier)) std::sort(ranges.begin(), ranges.end(), earlier);
  return ranges;
}

/// The person's claims among all, which are in order of person; there are few, so a fresh one is put between them, with
/// room for as many as the day can hold.
Claims& claims_of(PersonId person, std::vector<Claims>& all, std::size_t most) {
  auto place = std::lower_bound(all.begin(), all.end(), person,
                                [](const Claims& claims, PersonId wanted) { return claims.person < wanted; });
  if (place != all.end() && place->person == person) return *place;
  place = all.insert(place, {person, {}, {}});
  place->work.reserve(most);
  return *place;
}

/// Everybody's work and own breaks, by person.
std::vector<Claims> claims_of(const WorkingDay& day) {
  std::vector<Claims> all;
  const Ranges ranges = in_order(day);
  // Days of very many people are made up; the room for them is not to grow with their square.
  const std::size_t most = std::min<std::size_t>(ranges.size(), 256);
  for (const TaggedRange* range : ranges) {
    for (std::uint32_t i = 0; i < range->person_count; ++i) {
      Claims& claims = claims_of(day.people[range->first_person + i], all, most);
      (range->kind == SpanKind::work ? claims.work : claims.breaks).push_back(range);
    }
  }
  return all;
}

Coverage united(const Ranges& given) {
  std::vector<SessionRange> ranges;
  ranges.reserve(given.size());
  for (const TaggedRange* range : given) ranges.push_back(*SessionRange::make(range->begin, range->end));
  return Coverage{std::move(ranges)};
}

/// Puts a stretch behind others; one that goes on where the last ended makes that longer.
void append(std::vector<SessionRange>& ranges, SessionTime begin, SessionTime end) {
  if (!ranges.empty() && ranges.back().end() == begin) {
    ranges.back() = *SessionRange::make(ranges.back().begin(), end);
  } else {
    ranges.push_back(*SessionRange::make(begin, end));
  }
}

bool holds_off_camera(const WorkingDay& day) {
  return std::any_of(day.ranges.begin(), day.ranges.end(), [](const TaggedRange& range) { return range.off_camera; });
}

/// Both are in order, and stay so.
void merge_into(std::vector<SessionRange>& all, const std::vector<SessionRange>& ranges) {
  const auto middle = static_cast<std::ptrdiff_t>(all.size());
  all.insert(all.end(), ranges.begin(), ranges.end());
  std::inplace_merge(all.begin(), all.begin() + middle, all.end());
}

/// Counts one session, person by person.
class Counter {
 public:
  explicit Counter(const WorkingDay& day)
      : session_{day.session}, shop_{shop_of(day)}, some_off_camera_{holds_off_camera(day)} {}

  void count(const Claims& claims) {
    const Coverage own = united(claims.breaks);
    Clock clock{shop_};
    stretches_.clear();
    stretches_.reserve(claims.work.size());
    std::vector<SessionRange> at_work;
    std::vector<SessionRange> on_camera;
    at_work.reserve(claims.work.size());
    each_stretch(claims.work, [&](SessionTime begin, SessionTime end, const TaggedRange& range) {
      own.each_gap(begin, end, [&](SessionTime from, SessionTime to) {
        take(clock, from, to, range);
        append(at_work, from, to);
        if (some_off_camera_ && !range.off_camera) append(on_camera, from, to);
      });
    });
    merge_into(anybody_, at_work);
    merge_into(on_camera_, on_camera);
    write_rows(claims.person);
  }

  Hours hours(const WorkingDay& day) {
    std::sort(hours_.rows.begin(), hours_.rows.end(), [](const HoursRow& a, const HoursRow& b) {
      return std::tie(a.task, a.person) < std::tie(b.task, b.person);
    });
    const Worked all = worked_in(shop_, Coverage{std::move(anybody_)});
    const Worked seen = some_off_camera_ ? worked_in(shop_, Coverage{std::move(on_camera_)}) : all;
    hours_.elapsed = all.worked;
    hours_.unfilmed = hours_.elapsed - (seen.worked - seen.unfilmed);
    hours_.untagged = shop_.filmed.total() - tagged_in(day).shared_with(shop_.filmed);
    return std::move(hours_);
  }

 private:
  using Stretch = std::pair<std::optional<TaskId>, Worked>;

  void take(Clock& clock, SessionTime begin, SessionTime end, const TaggedRange& range) {
    Worked worked = clock.worked_in(begin, end);
    if (range.off_camera) worked.unfilmed = worked.worked;
    stretches_.emplace_back(range.task, worked);
  }

  void write_rows(PersonId person) {
    std::sort(stretches_.begin(), stretches_.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < stretches_.size();) {
      HoursRow row{session_, stretches_[i].first, person, {}, {}};
      for (; i < stretches_.size() && stretches_[i].first == row.task; ++i) {
        row.worked += stretches_[i].second.worked;
        row.unfilmed += stretches_[i].second.unfilmed;
      }
      hours_.person_time += row.worked;
      if (row.worked != Length{0}) hours_.rows.push_back(row);
    }
  }

  SessionId session_;
  Shop shop_;
  bool some_off_camera_;  ///< else whatever anybody did was before the cameras, and is not kept twice
  Hours hours_;
  std::vector<Stretch> stretches_;  ///< of the person at hand
  std::vector<SessionRange> anybody_;
  std::vector<SessionRange> on_camera_;
};

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

Hours count_hours(const WorkingDay& day) {
  Counter counter{day};
  for (const Claims& claims : claims_of(day)) counter.count(claims);
  return counter.hours(day);
}

Hours count_hours(const SessionRecord& record) { return count_hours(working_day(record)); }

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
