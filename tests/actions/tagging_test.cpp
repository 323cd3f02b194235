#include "actions/tagging.h"

#include <doctest/doctest.h>

#include "actions/desk.h"
#include "actions/rivets.h"
#include "actions/sealing.h"
#include "actions/shop.h"
#include "actions/tally.h"
#include "base/text.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;
using jigtime::test::Desk;

namespace {

SpanWords work(Length from, Length to, const std::string& task, std::vector<std::string> people,
               std::vector<std::string> fasteners = {}) {
  SpanWords words;
  words.from = SessionTime{from};
  words.to = SessionTime{to};
  words.task = task;
  words.people = std::move(people);
  words.fasteners = std::move(fasteners);
  return words;
}

}  // namespace

TEST_CASE("tagging adds people and tasks that are new and says so") {
  Desk desk;
  const auto tagged = add_spans(desk.store, desk.session, {work(1min, 2min, "Dimple", {"Mara", "Joost"})});
  REQUIRE(tagged);
  CHECK(tagged->created == std::vector<std::string>{"New task \"Dimple\".", "New person \"Mara\", as a builder.",
                                                    "New person \"Joost\", as a builder."});
  const auto again = add_spans(desk.store, desk.session, {work(2min, 3min, "Dimple", {"Mara"})});
  REQUIRE(again);
  CHECK(again->created.empty());
}

TEST_CASE("call-outs are kept in one spelling, blind rivets as pulled") {
  Desk desk;
  REQUIRE(add_spans(desk.store, desk.session,
                    {work(1min, 2min, "Rivet", {"Mara"}, {"an426ad3-4 = 58-2", "MS20600B4-3=6"})}));
  const auto record = desk.store.record(desk.session);
  REQUIRE(record);
  const auto& lines = record->spans.front().fasteners;
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].callout == "MS20426AD3-4");
  CHECK(lines[0].set == 58);
  CHECK(lines[0].drilled == 2);
  CHECK(lines[0].method == journal::Method::driven);
  CHECK(lines[1].method == journal::Method::pulled);
}

TEST_CASE("one bad row of a table leaves the journal without any of it, new names included") {
  Desk desk;
  auto rows = std::vector{work(1min, 2min, "Dimple", {"Mara"}), work(4min, 3min, "Rivet", {"Joost"}),
                          work(5min, 6min, "Rivet", {"Joost"}, {"MS20470AD4-5=many"})};
  for (int i = 0; i < 3; ++i) rows[static_cast<std::size_t>(i)].line = i + 2;
  const auto tagged = add_spans(desk.store, desk.session, rows);
  REQUIRE_FALSE(tagged);
  CHECK(tagged.error().code() == Code::invalid);
  CHECK(tagged.error().message().find("line 3: ") != std::string::npos);
  CHECK(tagged.error().message().find("line 4: ") != std::string::npos);
  CHECK(tagged.error().message().find("line 2: ") == std::string::npos);
  CHECK(tagged.error().message().find("Nothing was tagged.") != std::string::npos);
  CHECK(desk.store.record(desk.session)->spans.empty());
  CHECK(desk.store.known()->people.empty());
  CHECK(desk.store.known()->tasks.empty());
}

TEST_CASE("counts that are no counts are refused with the form they should have") {
  Desk desk;
  for (const char* text : {"MS20470AD4-5", "MS20470AD4-5=", "MS20470AD4-5=-3", "MS20470AD4-5=3-", "MS20470AD4-5=3-x",
                           "MS20470AD4-5=1e3", "MS20470AD4-5=123456", "=3", "MS20470AD4-5=2-3", "MS20470AD4-5=0"}) {
    CAPTURE(text);
    const auto tagged = add_spans(desk.store, desk.session, {work(1min, 2min, "Rivet", {"Mara"}, {text})});
    REQUIRE_FALSE(tagged);
    CHECK(tagged.error().code() == Code::invalid);
  }
}

TEST_CASE("hours fold by task, person and assembly without losing a second") {
  Desk desk;
  REQUIRE(add_task(desk.store, {"Rivet", "Tail / Elevator, left", "9", "14", {"MS20426AD3-4=72"}}));
  REQUIRE(add_spans(desk.store, desk.session,
                    {work(0min, 60min, "Rivet", {"Mara", "Joost"}), work(10min, 20min, "Dimple", {"Joost"})}));
  const auto all = tally_hours(desk.store, {});
  REQUIRE(all);
  CHECK(all->person_time == 2h);
  CHECK(all->elapsed == 1h);
  CHECK(all->unfilmed == 1h);
  for (const By by : {By::everything, By::task, By::assembly, By::person, By::role, By::session}) {
    const auto table = tally_hours(desk.store, {by, {}, {}});
    Length sum{0};
    for (const HoursLine& line : table->lines) sum += line.worked;
    CHECK(sum == 2h);
  }
  const auto people = tally_hours(desk.store, {By::person, {}, {}});
  REQUIRE(people->lines.size() == 2);
  CHECK(people->lines[0].person == "Joost");
  CHECK(people->lines[0].worked == 1h);
  const auto assemblies = tally_hours(desk.store, {By::assembly, {}, {}});
  CHECK(assemblies->lines.back().assembly == "Tail / Elevator, left");
  CHECK(assemblies->lines.back().worked == 110min);
}

TEST_CASE("hours between two days count those days and no others") {
  Desk desk;
  const auto other = desk.add_session(2026, 3, 15);
  REQUIRE(add_spans(desk.store, desk.session, {work(0min, 60min, "Rivet", {"Mara"})}));
  REQUIRE(add_spans(desk.store, other, {work(0min, 30min, "Rivet", {"Mara"})}));
  HoursAsked asked;
  asked.from = parse_date("2026-03-15");
  asked.to = asked.from;
  CHECK(tally_hours(desk.store, asked)->person_time == 30min);
  asked.from = parse_date("2026-03-16");
  CHECK(tally_hours(desk.store, asked).error().code() == Code::invalid);
}

TEST_CASE("fasteners are planned against set, and two lengths of one diameter in a task are pointed out") {
  Desk desk;
  REQUIRE(add_task(desk.store, {"Rivet", "", "", "", {"MS20426AD3-4=72", "AN426AD3-5=4"}}));
  REQUIRE(add_spans(desk.store, desk.session, {work(0min, 60min, "Rivet", {"Mara"}, {"MS20426AD3-4=58-2"})}));
  const auto table = tally_rivets(desk.store);
  REQUIRE(table);
  REQUIRE(table->lines.size() == 2);
  CHECK(table->lines[0].balance.left() == 16);
  CHECK(table->lines[1].balance.left() == 4);
  REQUIRE(table->warnings.size() == 1);
  CHECK(table->warnings.front().find("MS20426AD3-4 and MS20426AD3-5") != std::string::npos);
}

TEST_CASE("a mark is copied to another moment with its words and nothing else, and one undo takes the copy back") {
  Desk desk;
  const auto mark = add_mark(desk.store, desk.session, SessionTime{12min}, "low head");
  REQUIRE(mark);
  const auto copy = copy_mark(desk.store, desk.session, *mark, SessionTime{20min});
  REQUIRE(copy);
  const std::vector<journal::Mark> marks = desk.store.record(desk.session)->marks;
  REQUIRE(marks.size() == 2);
  CHECK(marks[1] == journal::Mark{*copy, desk.session, SessionTime{20min}, "low head"});
  CHECK(desk.store.find("low head")->size() == 2);
  CHECK(desk.store.history()->front().label == "copy a mark");
  REQUIRE(desk.store.undo());
  CHECK(desk.store.record(desk.session)->marks == std::vector<journal::Mark>{marks[0]});
  REQUIRE(desk.store.redo());
  CHECK(desk.store.record(desk.session)->marks == marks);
}

TEST_CASE("a mark is not copied onto itself, to before zero, or out of nothing") {
  Desk desk;
  const auto mark = add_mark(desk.store, desk.session, SessionTime{12min}, "low head");
  REQUIRE(mark);
  CHECK(copy_mark(desk.store, desk.session, *mark, SessionTime{12min}).error().code() == Code::invalid);
  CHECK(copy_mark(desk.store, desk.session, *mark, SessionTime{-1min}).error().code() == Code::invalid);
  CHECK(copy_mark(desk.store, desk.session, {99}, SessionTime{1min}).error().code() == Code::not_found);
  CHECK(desk.store.record(desk.session)->marks.size() == 1);
}

TEST_CASE("adding a task that exists changes what is given and keeps the rest") {
  Desk desk;
  REQUIRE(add_task(desk.store, {"Rivet", "Tail / Elevator", "9", "14", {}}));
  REQUIRE(add_task(desk.store, {"Rivet", "", "", "15", {"MS20426AD3-4=10"}}));
  const auto known = desk.store.known();
  const journal::Task* task = known->task("Rivet");
  REQUIRE(task != nullptr);
  CHECK(known->assembly_path(task->assembly) == "Tail / Elevator");
  CHECK(task->plan_sheet == "9");
  CHECK(task->plan_step == "15");
  CHECK(known->planned.size() == 1);
  CHECK_FALSE(add_task(desk.store, {"Rivet", "", "", "", {"MS20426AD3-4=some"}}));
  CHECK_FALSE(add_task(desk.store, {"Rivet", "Tail // Elevator", "", "", {}}));
}

TEST_CASE("a sealed session verifies and takes no further span, mark or seal") {
  Desk desk;
  REQUIRE(add_spans(desk.store, desk.session, {work(0min, 60min, "Rivet", {"Mara"})}));
  const WallTime now = std::chrono::sys_days{std::chrono::year{2026} / 3 / 15};
  const auto sealed = seal_session(desk.store, desk.session, now);
  REQUIRE(sealed);
  CHECK(sealed->entry.number == 1);
  CHECK(sealed->entry.previous == std::string(64, '0'));
  CHECK(verify_journal(desk.store, {})->sound());
  CHECK(add_spans(desk.store, desk.session, {work(61min, 62min, "Rivet", {"Mara"})}).error().code() == Code::conflict);
  CHECK(add_mark(desk.store, desk.session, SessionTime{1min}, "late").error().code() == Code::conflict);
  CHECK(seal_session(desk.store, desk.session, now).error().code() == Code::conflict);
  const auto other = desk.add_session(2026, 3, 15);
  const auto second = seal_session(desk.store, other, now);
  REQUIRE(second);
  CHECK(second->entry.previous == sealed->entry.digest);
  CHECK(second->notes == std::vector<std::string>{"Nothing was tagged: the entry holds no work."});
}
