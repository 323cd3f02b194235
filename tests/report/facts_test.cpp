#include "report/facts.h"

#include <doctest/doctest.h>

#include "report/report.h"
#include "report/sample_sessions.h"
#include "report/tables.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;

namespace {

std::string value_of(const std::vector<Fact>& facts, std::string_view name) {
  for (const Fact& fact : facts) {
    if (fact.name == name) return fact.value;
  }
  return "(not there)";
}

std::string attention(const Timeline& timeline) {
  std::string all;
  for (const std::string& sentence : attention_of(timeline, day_of(timeline))) all += sentence + "\n";
  return all;
}

}  // namespace

TEST_CASE("an unsealed session says that it can still change, a sealed one names its digest") {
  Timeline timeline = test::elevator_session();
  CHECK(value_of(facts_of(timeline, day_of(timeline)), "Seal") == "Not sealed: this record can still be changed.");
  timeline.record.entry = journal::Entry{{1}, {1}, 7, WallTime{std::chrono::hours{24 * 365}}, "", "00ff", "abcd"};
  CHECK(value_of(facts_of(timeline, day_of(timeline)), "Seal") ==
        "Entry 7, sealed 1971-01-01T00:00:00Z\nSHA-256 abcd\nafter 00ff");
  CHECK(value_of(facts_of(timeline, day_of(timeline)), "Amended") == "(not there)");
}

TEST_CASE("what was amended stands beside the seal, on the page and in the print") {
  Timeline timeline = test::elevator_session();
  timeline.record.entry = journal::Entry{{1}, {1}, 7, WallTime{}, "", "00ff", "abcd"};
  journal::Entry amendment{{2}, {1}, 8, WallTime{std::chrono::hours{24}}, "", "abcd", "ef01"};
  amendment.kind = journal::EntryKind::amendment;
  amendment.before = "58 set";
  amendment.after = "57 <set>";
  amendment.reason = "counted\nagain";
  timeline.record.amendments = {amendment};
  const std::string said = "Entry 8, 1970-01-02T00:00:00Z: \"58 set\" should say \"57 <set>\". Reason: counted again";
  CHECK(value_of(facts_of(timeline, day_of(timeline)), "Amended") == said);
  CHECK(contains(to_html(timeline), "57 &lt;set&gt;"));
}

TEST_CASE("a session whose time of day nobody knows says so") {
  const Timeline timeline = test::empty_session();
  CHECK(contains(value_of(facts_of(timeline, day_of(timeline)), "Session clock"), "No clock has told"));
  CHECK(contains(value_of(facts_of(test::elevator_session(), {}), "Session clock"), "2026-03-14T08:09:00Z"));
}

TEST_CASE("person-hours and elapsed hours stand apart") {
  const Timeline timeline = test::elevator_session();
  const auto times = times_of(timeline);
  CHECK(value_of(times, "Person-hours").find("2.8 h") == 0);
  // 34 + 42 + 47 min of work by at least one person.
  CHECK(value_of(times, "Elapsed hours").find("2.1 h") == 0);
  CHECK(value_of(times, "Unfilmed").find("none") == 0);
}

TEST_CASE("the shown person-hours are the sum of the shown rows for every rounding") {
  for (const auto rounding : {journal::Rounding::none, journal::Rounding::minute, journal::Rounding::tenth_hour,
                              journal::Rounding::quarter_hour}) {
    Timeline timeline = test::elevator_session();
    timeline.build.rounding = rounding;
    timeline.hours.rows[0].worked += std::chrono::milliseconds{499};
    timeline.hours.rows[1].worked += std::chrono::milliseconds{499};
    timeline.hours.person_time += std::chrono::milliseconds{998};
    const std::string total = value_of(times_of(timeline), "Person-hours");
    CHECK(total.substr(0, total.find('\n')) == hours_table(timeline).totals.back()[4]);
  }
}

TEST_CASE("what is uncertain or missing is said before anything is shown") {
  const std::string said = attention(test::elevator_session());
  CHECK(contains(said, "1 clip has no place on the session clock"));
  CHECK(contains(said, "2 clips are placed with a doubt of more than one picture"));
  CHECK(contains(said, "1 file could not be used."));
  CHECK(contains(said, "2 more MS20426AD3-4 than planned stand in \"Rivet elevator skin\"."));
  CHECK(contains(said, "of footage lies in no span; it counts for nothing."));
}

TEST_CASE("proposals are said to count for nothing") {
  Timeline timeline = test::elevator_session();
  timeline.record.proposals.resize(3);
  CHECK(contains(attention(timeline), "3 proposals"));
}

TEST_CASE("a session without anything doubtful needs no warning") { CHECK(attention(test::empty_session()).empty()); }
