#include "actions/shelf.h"

#include <doctest/doctest.h>

#include "actions/sealing.h"
#include "actions/shop.h"
#include "base/text.h"
#include "journal/hours.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

TEST_CASE("a person written in two ways becomes one, and a span that named both names one") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara Lind", "M. Lind"});
  desk.tag(10min, 20min, "Rivet", {"M. Lind"});
  REQUIRE(merge(desk.store, Shelved::person, "M. Lind", "Mara Lind"));
  for (const journal::Span& span : desk.record().spans) CHECK(span.people.size() == 1);
  const journal::Register known = desk.known();
  CHECK(known.person("M. Lind")->name == "Mara Lind");
  const auto hours = journal::count_hours(desk.record());
  REQUIRE(hours.rows.size() == 1);
  CHECK(hours.person_time == 20min);
  // The old spelling leads to the same person from now on.
  desk.tag(30min, 40min, "Rivet", {"M. Lind"});
  CHECK(desk.known().people.size() == 2);
}

TEST_CASE("merged tasks add up their plans and their spans, also through the search") {
  TaggedDesk desk;
  REQUIRE(add_task(desk.store, {"Rivet skin", "Tail", "", "", {"MS20470AD4-5=10", "MS20470AD3-4=1"}}));
  REQUIRE(add_task(desk.store, {"Rivet the skin", "", "", "", {"MS20470AD4-5=5"}}));
  desk.tag(0min, 10min, "Rivet skin", {"Mara"});
  REQUIRE(merge(desk.store, Shelved::task, "Rivet skin", "Rivet the skin"));
  const journal::Register known = desk.known();
  REQUIRE(known.planned.size() == 2);
  const journal::Task* task = known.task("Rivet the skin");
  CHECK(known.assembly_path(task->assembly) == "Tail");
  CHECK(desk.record().spans[0].task == task->id);
  for (const journal::PlannedFastener& line : known.planned) {
    CHECK(line.task == task->id);
    CHECK(line.count == (line.callout == "MS20470AD4-5" ? 15 : 1));
  }
  CHECK(desk.store.find("\"the\"")->size() == 1);
}

TEST_CASE("merged assemblies bring their parts and tasks, unless two parts have one name") {
  TaggedDesk desk;
  REQUIRE(add_assembly(desk.store, "Tail / Rib 1"));
  REQUIRE(add_assembly(desk.store, "Empennage / Rib 1"));
  CHECK(
      holds(said(merge(desk.store, Shelved::assembly, "Tail", "Empennage")), "conflict: Both assemblies have a part"));
  REQUIRE(merge(desk.store, Shelved::assembly, "Tail / Rib 1", "Empennage / Rib 1"));
  REQUIRE(rename(desk.store, Shelved::assembly, "Tail / Rib 1", "Rib one"));
  CHECK(holds(said(merge(desk.store, Shelved::assembly, "Empennage", "Empennage / Rib one")),
              "invalid: The assembly would become a part of itself"));
}

TEST_CASE("a rename reaches everything that is not sealed, and a taken name is refused") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  REQUIRE(rename(desk.store, Shelved::person, "Mara", "Mara Lind"));
  CHECK(desk.store.find("lind")->size() == 1);
  desk.tag(10min, 20min, "Deburr", {"Bo"});
  CHECK(holds(said(rename(desk.store, Shelved::task, "Deburr", "Rivet")), "invalid: A task called \"Rivet\""));
  CHECK(holds(said(rename(desk.store, Shelved::task, "None", "Other")), "not found: There is no task called"));
  CHECK(holds(said(merge(desk.store, Shelved::task, "Rivet", "Rivet")), "invalid: That is one and the same task"));
}

TEST_CASE("merging leaves sealed sessions as they were") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"M. Lind"});
  REQUIRE(seal_session(desk.store, desk.session, {}));
  const journal::SessionRecord sealed = desk.record();
  desk.session = desk.add_session(2026, 3, 15);
  desk.tag(0min, 10min, "Rivet", {"M. Lind", "Mara"});
  REQUIRE(merge(desk.store, Shelved::person, "M. Lind", "Mara"));
  CHECK(*desk.store.record(sealed.session.id) == sealed);
  CHECK(desk.record().spans[0].people.size() == 1);
}

TEST_CASE("what is put away is marked and comes back") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  REQUIRE(put(desk.store, Shelved::person, "Mara", Place::shelf));
  CHECK(desk.known().people[0].shelf.archived);
  REQUIRE(put(desk.store, Shelved::person, "Mara", Place::desk));
  CHECK(!desk.known().people[0].shelf.archived);
  CHECK(holds(said(put(desk.store, Shelved::person, "Nobody", Place::shelf)), "not found: "));
}

TEST_CASE("hours without footage make their session, lie behind what is there, and are unfilmed") {
  TaggedDesk desk;
  OffCamera work;
  work.day = std::chrono::year{2025} / 11 / 2;
  work.length = 90min;
  work.words.task = "Prime";
  work.words.people = {"Mara"};
  REQUIRE(add_off_camera(desk.store, work));
  REQUIRE(add_off_camera(desk.store, work));
  const auto session = desk.store.session(work.day);
  REQUIRE(session);
  const journal::SessionRecord record = *desk.store.record(session->id);
  REQUIRE(record.spans.size() == 2);
  CHECK(record.spans[1].begin == SessionTime{90min});
  CHECK(record.spans[1].off_camera);
  const auto hours = journal::count_hours(record);
  CHECK(hours.person_time == 3h);
  CHECK(hours.unfilmed == 3h);
  work.length = Length{0};
  CHECK(holds(said(add_off_camera(desk.store, work)), "invalid: Say how long"));
}

TEST_CASE("a day that lies ahead is entered and told, since it is likely a slip of the pen") {
  TaggedDesk desk;
  OffCamera work;
  work.length = 90min;
  work.words.task = "Prime";
  work.words.people = {"Mara"};
  work.day = std::chrono::year{2025} / 11 / 2;
  const auto past = add_off_camera(desk.store, work);
  REQUIRE(past);
  CHECK_FALSE(holds(listed(past->created), "lies ahead"));
  work.day = std::chrono::year{9625} / 11 / 2;
  const auto ahead = add_off_camera(desk.store, work);
  REQUIRE(ahead);
  CHECK(holds(ahead->created.back(), "9625-11-02 lies ahead"));
}
