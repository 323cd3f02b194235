#include "journal/hours.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>
#include <tuple>

#include "base/time.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace std::chrono_literals;

namespace {

constexpr PersonId ana{1};
constexpr PersonId bo{2};
constexpr TaskId skin{1};
constexpr TaskId ribs{2};

SessionTime at(Length length) { return SessionTime{length}; }

struct Day {
  SessionRecord record;
  std::int64_t last_id = 0;

  Day() { record.session.id = {7}; }

  Day& work(Length begin, Length end, TaskId task, std::vector<PersonId> people) {
    record.spans.push_back({{++last_id}, {7}, SpanKind::work, at(begin), at(end), task, std::move(people), {}, ""});
    return *this;
  }
  Day& pause(Length begin, Length end, std::vector<PersonId> people = {}) {
    record.spans.push_back(
        {{++last_id}, {7}, SpanKind::pause, at(begin), at(end), std::nullopt, std::move(people), {}, ""});
    return *this;
  }
  Day& film(Length begin, Length end) {
    Placement placement;
    placement.clip = {++last_id};
    placement.basis = Basis::audio;
    placement.pieces = {{ClipTime{}, ClipTime{end - begin}, at(begin), 0, Length{0}}};
    record.placements.push_back(placement);
    return *this;
  }
  Hours hours() const { return count_hours(record); }
};

Length worked(const Hours& hours, PersonId person, TaskId task) {
  Length sum{0};
  for (const HoursRow& row : hours.rows) {
    if (row.person == person && row.task == task) sum += row.worked;
  }
  return sum;
}

}  // namespace

// Vectors of common practice, no source: one person's morning, a helper for an hour of it.

TEST_CASE("one person from 9:00 to 11:30 has worked two and a half hours") {
  //  Ana  |=========skin=========|
  const Hours hours = Day{}.work(9h, 11h + 30min, skin, {ana}).hours();
  CHECK(hours.person_time == 150min);
  CHECK(hours.elapsed == 150min);
}

TEST_CASE("a helper's hour adds to person hours and not to elapsed hours") {
  //  Ana  |=========skin=========|
  //  Bo        |===ribs===|
  const Hours hours = Day{}.work(9h, 11h + 30min, skin, {ana}).work(10h, 11h, ribs, {bo}).hours();
  CHECK(hours.person_time == 210min);
  CHECK(hours.elapsed == 150min);
  CHECK(worked(hours, ana, skin) == 150min);
  CHECK(worked(hours, bo, ribs) == 60min);
}

TEST_CASE("three cameras on the same work count it once") {
  //  cams |----------------------|
  //       |----------------------|
  //       |----------------------|
  //  Ana  |=========skin=========|
  const Hours hours =
      Day{}.work(9h, 11h + 30min, skin, {ana}).film(9h, 12h).film(9h, 12h).film(8h, 11h + 30min).hours();
  CHECK(hours.person_time == 150min);
  CHECK(hours.unfilmed == 0min);
  CHECK(hours.untagged == 90min);
}

TEST_CASE("two tasks over the same half hour share it and do not double it") {
  //  Ana  |======skin======|
  //       |======ribs======|
  const Hours hours = Day{}.work(0h, 30min, skin, {ana}).work(0h, 30min, ribs, {ana}).hours();
  CHECK(hours.person_time == 30min);
  CHECK(hours.elapsed == 30min);
}

TEST_CASE("a session over midnight counts elapsed time") {
  //  23:30 |====skin====| 00:45, the session clock began at 20:00
  const Hours hours = Day{}.work(3h + 30min, 4h + 45min, skin, {ana}).hours();
  CHECK(hours.person_time == 75min);
}

TEST_CASE("a clock change in the night changes no hours") {
  //  01:30 before and 03:30 after the spring change are one hour apart; wall time of zero says nothing about hours
  Day day;
  day.record.session.zero = WallTime{1'790'000'000s};
  CHECK(day.work(30min, 90min, skin, {ana}).hours().person_time == 60min);
}

TEST_CASE("an overlap goes to the span that began later") {
  //  Ana  |==========skin==========|
  //             |==ribs==|
  const Hours hours = Day{}.work(0min, 60min, skin, {ana}).work(20min, 40min, ribs, {ana}).hours();
  CHECK(worked(hours, ana, skin) == 40min);
  CHECK(worked(hours, ana, ribs) == 20min);
  CHECK(hours.elapsed == 60min);
}

TEST_CASE("an overlap at the end goes to the span that began later") {
  //  Ana  |=====skin=====|
  //                 |=====ribs=====|
  const Hours hours = Day{}.work(0min, 30min, skin, {ana}).work(20min, 60min, ribs, {ana}).hours();
  CHECK(worked(hours, ana, skin) == 20min);
  CHECK(worked(hours, ana, ribs) == 40min);
}

TEST_CASE("of two spans that begin together the shorter has the overlap") {
  //  Ana  |==========skin==========|
  //       |==ribs==|
  const Hours hours = Day{}.work(0min, 20min, ribs, {ana}).work(0min, 60min, skin, {ana}).hours();
  CHECK(worked(hours, ana, ribs) == 20min);
  CHECK(worked(hours, ana, skin) == 40min);
}

TEST_CASE("of two equal ranges the span with the larger id has the time") {
  const Hours hours = Day{}.work(0min, 20min, ribs, {ana}).work(0min, 20min, skin, {ana}).hours();
  CHECK(worked(hours, ana, ribs) == 0min);
  CHECK(worked(hours, ana, skin) == 20min);
  CHECK(hours.rows.size() == 1);
}

TEST_CASE("an overlap of different people's spans takes nothing from either") {
  //  Ana  |====skin====|
  //  Bo      |====ribs====|
  const Hours hours = Day{}.work(0min, 20min, skin, {ana}).work(10min, 30min, ribs, {bo}).hours();
  CHECK(worked(hours, ana, skin) == 20min);
  CHECK(worked(hours, bo, ribs) == 20min);
  CHECK(hours.elapsed == 30min);
}

TEST_CASE("a break that names one person takes time from that person alone") {
  //  Ana  |====skin====|
  //  Bo   |====skin====|
  //  brk      |Bo|
  const Hours hours = Day{}.work(0min, 60min, skin, {ana, bo}).pause(20min, 35min, {bo}).hours();
  CHECK(worked(hours, ana, skin) == 60min);
  CHECK(worked(hours, bo, skin) == 45min);
  CHECK(hours.elapsed == 60min);
}

TEST_CASE("a break that names nobody takes time from everybody") {
  //  Ana  |====skin====|
  //  Bo   |====skin====|
  //  brk      |all|
  const Hours hours = Day{}.work(0min, 60min, skin, {ana, bo}).pause(20min, 35min).hours();
  CHECK(hours.person_time == 90min);
  CHECK(hours.elapsed == 45min);
}

TEST_CASE("breaks that overlap are taken out once") {
  //  Ana  |======skin======|
  //  brk      |all |
  //             |all |
  //            |Ana |
  const Hours hours =
      Day{}.work(0min, 60min, skin, {ana}).pause(20min, 30min).pause(25min, 35min).pause(22min, 32min, {ana}).hours();
  CHECK(hours.person_time == 45min);
  CHECK(hours.elapsed == 45min);
}

TEST_CASE("a break stands above work that began inside it") {
  //  Ana      |==skin==|
  //  brk  |======all======|
  const Hours hours = Day{}.work(10min, 20min, skin, {ana}).pause(0min, 30min).hours();
  CHECK(hours.rows.empty());
  CHECK(hours.person_time == 0min);
  CHECK(hours.elapsed == 0min);
}

TEST_CASE("work that no camera saw counts and is shown as unfilmed") {
  //  cam       |-------|
  //  Ana  |====skin====|
  const Hours hours = Day{}.work(0min, 60min, skin, {ana}).film(15min, 60min).hours();
  CHECK(hours.person_time == 60min);
  CHECK(hours.unfilmed == 15min);
  CHECK(hours.rows.at(0).unfilmed == 15min);
}

TEST_CASE("a dropout inside a clip is unfilmed unless another camera covers it") {
  //  cam  |---|   |----|
  //  cam        |------|
  //  Ana  |====skin====|
  Day day;
  day.work(0min, 60min, skin, {ana}).film(0min, 20min).film(30min, 60min);
  CHECK(day.hours().unfilmed == 10min);
  CHECK(day.film(25min, 60min).hours().unfilmed == 5min);
}

TEST_CASE("a break is not unfilmed work") {
  const Hours hours = Day{}.work(0min, 60min, skin, {ana}).pause(10min, 20min).film(30min, 60min).hours();
  CHECK(hours.unfilmed == 20min);
  CHECK(hours.rows.at(0).unfilmed == 20min);
}

TEST_CASE("two people unfilmed together are one stretch of elapsed time and two rows") {
  const Hours hours = Day{}.work(0min, 60min, skin, {ana, bo}).film(0min, 45min).hours();
  CHECK(hours.unfilmed == 15min);
  CHECK(hours.rows.at(0).unfilmed + hours.rows.at(1).unfilmed == 30min);
}

TEST_CASE("footage in no span is untagged and never counted") {
  //  cam  |-----------------|
  //  cam     |-----------------|
  //  Ana          |skin|
  const Hours hours = Day{}.film(0min, 60min).film(10min, 70min).work(30min, 40min, skin, {ana}).hours();
  CHECK(hours.untagged == 60min);
  CHECK(hours.person_time == 10min);
}

TEST_CASE("off-camera work is all unfilmed, and leaves the footage of that time untagged") {
  //  cam  |-----------------|
  //  Ana     |~~skin~~|
  Day day;
  day.film(0min, 60min).work(10min, 40min, skin, {ana});
  day.record.spans.back().off_camera = true;
  const Hours hours = day.hours();
  CHECK(hours.person_time == 30min);
  CHECK(hours.elapsed == 30min);
  CHECK(hours.unfilmed == 30min);
  CHECK(hours.rows.at(0).unfilmed == 30min);
  CHECK(hours.untagged == 60min);
}

TEST_CASE("while one works on camera and another off it, the elapsed time is filmed") {
  //  cam  |-----------------|
  //  Ana  |~~~~~~skin~~~~~~|
  //  Bo        |==ribs==|
  Day day;
  day.film(0min, 60min).work(0min, 60min, skin, {ana});
  day.record.spans.back().off_camera = true;
  const Hours hours = day.work(20min, 40min, ribs, {bo}).hours();
  CHECK(hours.person_time == 80min);
  CHECK(hours.elapsed == 60min);
  CHECK(hours.unfilmed == 40min);
  CHECK(hours.untagged == 40min);
}

TEST_CASE("a break counts as tagged") {
  const Hours hours = Day{}.film(0min, 60min).pause(0min, 60min).hours();
  CHECK(hours.untagged == 0min);
  CHECK(hours.person_time == 0min);
}

TEST_CASE("work that names nobody is tagged and counts for nobody") {
  const Hours hours = Day{}.film(0min, 60min).work(0min, 60min, skin, {}).hours();
  CHECK(hours.untagged == 0min);
  CHECK(hours.elapsed == 0min);
  CHECK(hours.rows.empty());
}

TEST_CASE("a clip without a place films nothing") {
  Day day;
  day.record.placements.push_back({{1}, Basis::none, {}, {}, {}});
  CHECK(day.work(0min, 10min, skin, {ana}).hours().unfilmed == 10min);
}

TEST_CASE("a person named twice in a span counts once") {
  CHECK(Day{}.work(0min, 10min, skin, {ana, ana}).hours().person_time == 10min);
}

TEST_CASE("a span that ends before it begins is passed over") {
  const Hours hours = Day{}.work(10min, 5min, skin, {ana}).work(5min, 5min, skin, {ana}).pause(9min, 2min).hours();
  CHECK(hours == Hours{});
}

TEST_CASE("an empty session has no hours") { CHECK(Day{}.hours() == Hours{}); }

TEST_CASE("rows are ordered by task, then person") {
  const Hours hours = Day{}.work(0min, 10min, ribs, {bo, ana}).work(10min, 20min, skin, {bo, ana}).hours();
  REQUIRE(hours.rows.size() == 4);
  CHECK(hours.rows[0] == HoursRow{{7}, skin, ana, 10min, 10min});
  CHECK(hours.rows[1] == HoursRow{{7}, skin, bo, 10min, 10min});
  CHECK(hours.rows[2] == HoursRow{{7}, ribs, ana, 10min, 10min});
  CHECK(hours.rows[3] == HoursRow{{7}, ribs, bo, 10min, 10min});
}

TEST_CASE("the sum of sessions keeps their rows apart and adds their totals") {
  Day first;
  Day second;
  second.record.session.id = {3};
  const Hours a = first.work(0min, 10min, skin, {ana}).film(0min, 30min).hours();
  const Hours b = second.work(0min, 25min, skin, {ana}).hours();
  const Hours all = sum({a, b});
  REQUIRE(all.rows.size() == 2);
  CHECK(all.rows[0].session == SessionId{3});
  CHECK(all.person_time == 35min);
  CHECK(all.elapsed == 35min);
  CHECK(all.untagged == 20min);
  CHECK(all.unfilmed == 25min);
}

TEST_CASE("the sum of the same session twice has each row once with twice the time") {
  const Hours a = Day{}.work(0min, 10min, skin, {ana}).hours();
  const Hours all = sum({a, a});
  REQUIRE(all.rows.size() == 1);
  CHECK(all.rows[0].worked == 20min);
}

namespace {

/// Ranges with ends on whole seconds below `limit`.
class RandomDay {
 public:
  RandomDay(unsigned seed, int limit) : dice_{seed}, limit_{limit} {}

  SessionRecord record() {
    Day day;
    for (int i = roll(0, 12); i > 0; --i) {
      const auto [begin, end] = range();
      std::vector<PersonId> people;
      for (std::int64_t person = 1; person <= 3; ++person) {
        if (roll(0, 1) == 1) people.push_back({person});
      }
      if (roll(0, 3) == 0) {
        day.pause(begin, end, people);
      } else {
        day.work(begin, end, {roll(1, 3)}, people);
      }
    }
    for (int i = roll(0, 4); i > 0; --i) {
      const auto [begin, end] = range();
      day.film(begin, end);
    }
    std::shuffle(day.record.spans.begin(), day.record.spans.end(), dice_);
    return day.record;
  }

 private:
  int roll(int least, int most) { return std::uniform_int_distribution<int>{least, most}(dice_); }
  std::pair<Length, Length> range() {
    const int begin = roll(0, limit_ - 2);
    return {std::chrono::seconds{begin}, std::chrono::seconds{roll(begin + 1, limit_)}};
  }

  std::mt19937 dice_;
  int limit_;
};

bool covers(const Span& span, SessionTime t) { return span.begin <= t && t < span.end; }

bool names(const Span& span, PersonId person) {
  return std::find(span.people.begin(), span.people.end(), person) != span.people.end();
}

/// The span that has this person's second, by the words of the rule.
const Span* has_second(const std::vector<Span>& spans, PersonId person, SessionTime t) {
  const Span* best = nullptr;
  for (const Span& span : spans) {
    if (!covers(span, t)) continue;
    if (span.kind == SpanKind::pause && (span.people.empty() || names(span, person))) return nullptr;
    if (span.kind != SpanKind::work || !names(span, person)) continue;
    const bool wins = best == nullptr || span.begin > best->begin ||
                      (span.begin == best->begin && span.end < best->end) ||
                      (span.begin == best->begin && span.end == best->end && span.id > best->id);
    if (wins) best = &span;
  }
  return best;
}

bool filmed_at(const SessionRecord& record, SessionTime t) {
  return std::any_of(record.placements.begin(), record.placements.end(),
                     [&](const Placement& placement) { return piece_at(placement.pieces, t) != nullptr; });
}

/// Second by second, straight from the rules.
Hours counted_slowly(const SessionRecord& record, int limit) {
  Hours hours;
  std::map<std::tuple<std::optional<TaskId>, PersonId>, HoursRow> rows;
  for (int second = 0; second < limit; ++second) {
    const SessionTime t = at(std::chrono::seconds{second});
    const bool filmed = filmed_at(record, t);
    bool anybody = false;
    for (std::int64_t id = 1; id <= 3; ++id) {
      const Span* span = has_second(record.spans, {id}, t);
      if (span == nullptr) continue;
      anybody = true;
      HoursRow& row = rows[{span->task, PersonId{id}}];
      row = {record.session.id, span->task, {id}, row.worked + 1s, row.unfilmed + (filmed ? 0s : 1s)};
      hours.person_time += 1s;
    }
    if (anybody) hours.elapsed += 1s;
    if (anybody && !filmed) hours.unfilmed += 1s;
    const bool tagged =
        std::any_of(record.spans.begin(), record.spans.end(), [&](const Span& span) { return covers(span, t); });
    if (filmed && !tagged) hours.untagged += 1s;
  }
  for (const auto& [key, row] : rows) hours.rows.push_back(row);
  return hours;
}

}  // namespace

TEST_CASE("random sessions have the hours that counting second by second gives") {
  constexpr int limit = 120;
  for (unsigned seed = 0; seed < 2000; ++seed) {
    const SessionRecord record = RandomDay{seed, limit}.record();
    CAPTURE(seed);
    REQUIRE(count_hours(record) == counted_slowly(record, limit));
  }
}

TEST_CASE("the order of the spans does not matter") {
  std::mt19937 dice{5};
  for (unsigned seed = 0; seed < 100; ++seed) {
    SessionRecord record = RandomDay{seed, 500}.record();
    const Hours before = count_hours(record);
    std::shuffle(record.spans.begin(), record.spans.end(), dice);
    CAPTURE(seed);
    REQUIRE(count_hours(record) == before);
  }
}

TEST_CASE("another camera on the same footage changes no hours") {
  for (unsigned seed = 0; seed < 100; ++seed) {
    SessionRecord record = RandomDay{seed, 500}.record();
    const Hours before = count_hours(record);
    const std::vector<Placement> again = record.placements;
    record.placements.insert(record.placements.end(), again.begin(), again.end());
    CAPTURE(seed);
    REQUIRE(count_hours(record) == before);
  }
}

TEST_CASE("ten thousand nested spans are counted without a quadratic walk") {
  Day day;
  constexpr int count = 10'000;
  for (int i = 0; i < count; ++i) {
    day.work(std::chrono::seconds{i}, std::chrono::seconds{3 * count - i}, i % 2 == 0 ? skin : ribs, {ana});
    day.pause(std::chrono::seconds{3 * i}, std::chrono::seconds{3 * i + 1});
  }
  const Hours hours = day.hours();
  CHECK(hours.elapsed == std::chrono::seconds{2 * count});
}

TEST_CASE("a person named twice in one range, and a range that ends before it begins, change no hours") {
  WorkingDay day{{1}, std::chrono::year{2026} / 3 / 14, {}, {{1}, {1}, {1}}, {}};
  day.ranges = {{{1}, SessionTime{0s}, SessionTime{60s}, TaskId{1}, SpanKind::work, false, 0, 2},
                {{2}, SessionTime{50s}, SessionTime{10s}, TaskId{2}, SpanKind::work, false, 2, 1}};
  const Hours hours = count_hours(day);
  REQUIRE(hours.rows.size() == 1);
  CHECK(hours.person_time == 60s);
  CHECK(hours.elapsed == 60s);
}

TEST_CASE("twenty thousand spans one inside the other are counted at once, each getting its rim") {
  WorkingDay day{{1}, std::chrono::year{2026} / 3 / 14, {}, {}, {}};
  constexpr int depth = 20'000;
  for (int i = 0; i < depth; ++i) {
    day.ranges.push_back({{i + 1},
                          SessionTime{std::chrono::seconds{i}},
                          SessionTime{std::chrono::seconds{2 * depth - i}},
                          TaskId{i + 1},
                          SpanKind::work,
                          false,
                          static_cast<std::uint32_t>(i),
                          1});
    day.people.push_back({1});
  }
  const Hours hours = count_hours(day);
  REQUIRE(hours.rows.size() == depth);
  CHECK(hours.person_time == std::chrono::seconds{2 * depth});
  CHECK(hours.rows[0].worked == 2s);
  CHECK(hours.rows[depth - 1].worked == 2s);
}
