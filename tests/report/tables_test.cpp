#include "report/tables.h"

#include <doctest/doctest.h>

#include "report/sample_sessions.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;
using test::at;

namespace {

void check_shape(const Table& table) {
  for (const Row& row : table.rows) CHECK(row.size() == table.columns.size());
  for (const Row& row : table.totals) CHECK(row.size() == table.columns.size());
  CHECK_FALSE(table.caption.empty());
  CHECK(table.when_empty.back() == '.');
}

}  // namespace

TEST_CASE("every table has as many cells as columns, with and without rows") {
  for (const Timeline& timeline :
       {test::elevator_session(), test::empty_session(), test::long_day(), test::hostile_session()}) {
    const Day day = day_of(timeline);
    for (const Table& table :
         {unplaced_table(day), cameras_table(day), clips_table(day), dropouts_table(day), unreadable_table(timeline),
          spans_table(timeline), fasteners_table(timeline), hours_table(timeline)}) {
      check_shape(table);
    }
  }
}

TEST_CASE("a span is shown with its times, task, plan reference, people, fasteners and note") {
  const Table table = spans_table(test::elevator_session());
  REQUIRE(table.rows.size() == 6);
  const Row& row = table.rows[2];
  CHECK(row[0] == "S3");
  CHECK(row[1] == "0:47:00 to 1:29:00\n(42 min)");
  CHECK(row[2] == "Rivet elevator skin\nTail / Elevator, left\nPlans: sheet 7, step 9");
  CHECK(row[3] == "Ilda Serrano (builder)\nBento Ayoub (helper)");
  CHECK(row[4] == "MS20426AD3-3.5: 46 driven, of them 2 drilled out again");
  CHECK(table.rows[1][2] == "Break");
  CHECK(table.rows[1][3] == "everybody");
}

TEST_CASE("a span that ends before it begins is in the table and says what to do") {
  Timeline timeline = test::elevator_session();
  timeline.record.spans[0].end = timeline.record.spans[0].begin;
  CHECK(contains(spans_table(timeline).rows[0][1], "ends before it begins: mend it"));
}

TEST_CASE("planned against set is shown for the whole build: left, over and as planned") {
  Timeline timeline = test::elevator_session();
  timeline.build_balance[0].set = 150;  // earlier sessions set more of MS20426AD3-3.5 than this one
  const Table table = fasteners_table(timeline);
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0] == Row{"Rivet elevator skin", "MS20426AD3-3.5", "96", "2", "96", "148", "52 over"});
  CHECK(table.rows[1] == Row{"Rivet elevator skin", "MS20426AD3-4", "14", "0", "12", "14", "2 over"});
  timeline.build_balance[0].set = 98;
  CHECK(fasteners_table(timeline).rows[0].back() == "as planned");
  timeline.build_balance[0].set = 90;
  CHECK(fasteners_table(timeline).rows[0].back() == "8 left");
}

TEST_CASE("what one session alone cannot know about the plan is not computed") {
  Timeline timeline = test::elevator_session();
  timeline.build_balance.clear();
  CHECK(fasteners_table(timeline).rows[0] ==
        Row{"Rivet elevator skin", "MS20426AD3-3.5", "96", "2", "96", "–", "only the whole journal tells"});
}

TEST_CASE("a planned call-out of which none was set stands beside the one that was set instead") {
  Timeline timeline = test::elevator_session();
  timeline.record.spans[2].fasteners[0].callout = "MS20426AD3-4";
  timeline.record.spans[5].fasteners.clear();
  timeline.build_balance = journal::balance(timeline.known, timeline.record.spans);
  const Table table = fasteners_table(timeline);
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[0] == Row{"Rivet elevator skin", "MS20426AD3-3.5", "0", "0", "96", "0", "96 left"});
  CHECK(table.rows[1].back() == "32 over");
}

TEST_CASE("an unplanned call-out is said to be unplanned") {
  Timeline timeline = test::elevator_session();
  timeline.known.planned.clear();
  timeline.build_balance = journal::balance(timeline.known, timeline.record.spans);
  CHECK(fasteners_table(timeline).rows[0].back() == "not planned");
}

TEST_CASE("hours rows add up to the totals by role and of all, as shown") {
  const Table table = hours_table(test::elevator_session());
  REQUIRE(table.rows.size() == 4);
  CHECK(table.rows[0] == Row{"Dimple elevator skin", "Tail / Elevator, left", "Ilda Serrano", "builder", "0.6 h", "–"});
  CHECK(table.rows[1][4] == "1.5 h");
  CHECK(table.rows[2][4] == "0.6 h");
  CHECK(table.rows[3][4] == "0.1 h");
  REQUIRE(table.totals.size() == 3);
  CHECK(table.totals[0] == Row{"Sum", "", "", "builder", "2.1 h", ""});
  CHECK(table.totals[1] == Row{"Sum", "", "", "helper", "0.7 h", ""});
  CHECK(table.totals[2] == Row{"Person-hours", "", "", "all roles", "2.8 h", ""});
}

TEST_CASE("work that no camera saw is shown beside the hours it is part of") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements.clear();
  timeline.hours = journal::count_hours(timeline.record);
  CHECK(hours_table(timeline).rows[0].back() == "34 min");
}

TEST_CASE("a clip is shown with all its files, its doubt in words and its evidence") {
  const Table table = clips_table(day_of(test::elevator_session()));
  REQUIRE(table.rows.size() == 6);
  CHECK(table.rows[0][2] == "BN_0041.MP4\nBN_0042.MP4");
  CHECK(table.rows[0][4] == "by sound\n± 0.40 ms");
  CHECK(contains(table.rows[0][5], "Sound in common: 58 min with 20260314_081502.mov"));
  CHECK(table.rows[4][4] == "by its clock only\n± 95 s");
}

TEST_CASE("dropouts are listed with their kind, and as approximate beside a doubtful clip") {
  const Table table = dropouts_table(day_of(test::elevator_session()));
  REQUIRE(table.rows.size() == 4);
  CHECK(table.rows[0] == Row{"1:24:00 to 1:31:00", "bench", "7 min", "between C1 and C2"});
  CHECK(table.rows[2][3] == "inside C4");
  CHECK(table.rows[3][2] == "about 48 min");
}

TEST_CASE("a camera is shown with what it recorded once, what it lost and how its clock stood") {
  const Table table = cameras_table(day_of(test::elevator_session()));
  CHECK(table.rows[0] == Row{"bench\n(reference)", "2", "2 h 15 min", "1, 7 min", "with the session clock"});
  CHECK(table.rows[1].back() == "1 h behind");
  CHECK(table.rows[2].back() == "not known");
}

TEST_CASE("files that could not be used are listed with the reason") {
  const Table table = unreadable_table(test::elevator_session());
  REQUIRE(table.rows.size() == 1);
  CHECK(table.rows[0][0] == "20260314_103500.mov");
  CHECK(contains(table.rows[0][2], "copy it from the card again"));
}
