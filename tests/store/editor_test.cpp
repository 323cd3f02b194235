#include <doctest/doctest.h>

#include "store/filled.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Store;

TEST_CASE("an edit that fails leaves nothing behind") {
  Store store = filled_store();
  const Done done = store.edit("two people", [](Edit& edit) -> Done {
    must(edit.add(Person{{}, "Cy", Role::helper}));
    return edit.add(Person{{}, "Ana", Role::helper}).error();
  });
  CHECK(holds(refusal(done), "invalid: A person called \"Ana\" is in the journal already"));
  CHECK(must(store.known()) == sample_register());
}

TEST_CASE("a call that is refused leaves the calls before it to be kept") {
  Store store = filled_store();
  must(store.edit("people", [](Edit& edit) -> Done {
    must(edit.add(Person{{}, "Cy", Role::helper}));
    CHECK(!edit.add(Person{{}, "Ana", Role::helper}));
    return {};
  }));
  CHECK(must(store.known()).person("Cy") != nullptr);
}

TEST_CASE("an exception out of the deed rolls back and comes out as an error") {
  Store store = filled_store();
  const Done done = store.edit("people", [](Edit& edit) -> Done {
    must(edit.add(Person{{}, "Cy", Role::helper}));
    throw std::runtime_error{"out of luck"};
  });
  CHECK(holds(refusal(done), "internal: "));
  CHECK(holds(refusal(done), "out of luck"));
  CHECK(must(store.known()).person("Cy") == nullptr);
}

TEST_CASE("an edit inside an edit is refused, and the outer one goes on") {
  Store store = filled_store();
  must(store.edit("outer", [&](Edit& edit) -> Done {
    CHECK(holds(refusal(store.edit("inner", [](Edit&) -> Done { return {}; })), "internal: "));
    return edit.add(Person{{}, "Cy", Role::helper}) ? Done{} : Done{Error{Code::internal, ""}};
  }));
  CHECK(must(store.known()).person("Cy") != nullptr);
}

TEST_CASE("a read inside an edit sees what the edit wrote") {
  Store store = filled_store();
  must(store.edit("people", [&](Edit& edit) -> Done {
    must(edit.add(Person{{}, "Cy", Role::helper}));
    CHECK(must(store.known()).person("Cy") != nullptr);
    return {};
  }));
}

TEST_CASE("a record is read from one state while another program writes") {
  const TempFolder folder;
  Store writer = must(Store::create(folder / "a.jigtime", sample_build()));
  fill(writer);
  const Store reader = must(Store::open(folder / "a.jigtime"));
  must(writer.edit("tag", [&](Edit& edit) -> Done {
    must(edit.add(sample_record().spans[0]));
    CHECK(record_of(reader).spans.size() == 2);
    return {};
  }));
  CHECK(record_of(reader).spans.size() == 3);
}

TEST_CASE("the build is changed whole") {
  Store store = filled_store();
  const Build build{"Biplane", "Y-1", "Barn", "Europe/Lisbon", Rounding::quarter_hour};
  must(edited(store, [&](Edit& edit) { return edit.set_build(build); }));
  CHECK(must(store.build()) == build);
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.set_build({}); })), "invalid: "));
  CHECK(must(store.build()) == build);
}

TEST_CASE("people and tasks are renamed, unless the name is taken or they are not there") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.update(Person{{2}, "Bea", Role::hired}); }));
  must(edited(store, [](Edit& edit) { return edit.update(Task{{2}, "Deburr ribs", AssemblyId{1}, "8", "4"}); }));
  const Register known = must(store.known());
  CHECK(known.people[1] == Person{{2}, "Bea", Role::hired});
  CHECK(known.tasks[1] == Task{{2}, "Deburr ribs", AssemblyId{1}, "8", "4"});

  const auto person = [&](const Person& row) { return refusal(edited(store, [&](Edit& e) { return e.update(row); })); };
  const auto task = [&](const Task& row) { return refusal(edited(store, [&](Edit& e) { return e.update(row); })); };
  CHECK(holds(person({{2}, "Ana", Role::hired}), "invalid: A person called \"Ana\""));
  CHECK(holds(person({{9}, "Cy", Role::hired}), "not found: "));
  CHECK(holds(task({{2}, "Rivet the skin", std::nullopt, "", ""}), "invalid: A task called"));
  CHECK(holds(task({{9}, "Paint", std::nullopt, "", ""}), "not found: "));
  CHECK(holds(task({{2}, "Paint", AssemblyId{9}, "", ""}), "not found: The assembly"));
  CHECK(must(store.known()) == known);
}

TEST_CASE("a person may be given the name the person has") {
  Store store = filled_store();
  CHECK(edited(store, [](Edit& edit) { return edit.update(Person{{1}, "Ana", Role::hired}); }).ok());
}

TEST_CASE("assemblies are unique among their siblings only") {
  Store store = filled_store();
  const auto add = [&](std::optional<AssemblyId> parent, const std::string& name) {
    return refusal(edited(store, [&](Edit& edit) { return edit.add(Assembly{{}, parent, name}); }));
  };
  CHECK(add(AssemblyId{1}, "Tail") == "done");
  CHECK(holds(add(std::nullopt, "Tail"), "invalid: "));
  CHECK(holds(add(AssemblyId{1}, "Elevator, left"), "invalid: "));
  CHECK(holds(add(AssemblyId{99}, "Tip"), "not found: "));
  CHECK(holds(add(std::nullopt, "Wing/Tip"), "invalid: "));
}

TEST_CASE("tasks and cameras are unique") {
  Store store = filled_store();
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.add(sample_register().tasks[0]); })), "invalid: A task"));
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.add(Camera{{}, "bench"}); })), "invalid: A camera"));
}

TEST_CASE("a planned count is replaced, and none takes the line away") {
  Store store = filled_store();
  const auto plan = [&](TaskId task, const std::string& callout, int count) {
    return refusal(edited(store, [&](Edit& e) { return e.set_planned({{}, task, callout, count}); }));
  };
  CHECK(plan({1}, "MS20426AD3-4.5", 44) == "done");
  CHECK(plan({2}, "MS20426AD3-4.5", 3) == "done");
  REQUIRE(must(store.known()).planned.size() == 2);
  CHECK(must(store.known()).planned[0].count == 44);
  CHECK(plan({1}, "MS20426AD3-4.5", 0) == "done");
  CHECK(plan({1}, "MS20470AD4-5", 0) == "done");
  CHECK(must(store.known()).planned.size() == 1);
  CHECK(holds(plan({9}, "MS20426AD3-4.5", 1), "not found: The task"));
  CHECK(holds(plan({1}, "ms20426ad3-4.5", 1), "invalid: "));
}

TEST_CASE("a date has one session") {
  using std::chrono::year;
  Store store = filled_store();
  Session session;
  session.date = year{2026} / 3 / 14;
  CHECK(holds(refusal(edited(store, [&](Edit& e) { return e.add(session); })), "A session of \"2026-03-14\""));
  session.date = year{2026} / 3 / 15;
  session.id = must(edited(store, [&](Edit& e) { return e.add(session); }));
  session.note = "Rain.";
  session.reference = CameraId{2};
  must(edited(store, [&](Edit& e) { return e.update(session); }));
  CHECK(must(store.session(session.date)) == session);
  session.date = year{2026} / 3 / 14;
  CHECK(holds(refusal(edited(store, [&](Edit& e) { return e.update(session); })), "invalid: "));
  session.reference = CameraId{9};
  CHECK(holds(refusal(edited(store, [&](Edit& e) { return e.update(session); })), "not found: The camera"));
  session.id = {9};
  CHECK(holds(refusal(edited(store, [&](Edit& e) { return e.update(session); })), "not found: The session"));
}

TEST_CASE("a session that is not there is answered with the nearest dates there are") {
  using std::chrono::year;
  Store store = must(Store::in_memory(sample_build()));
  CHECK(refusal(store.session(year{2026} / 3 / 15)) ==
        "not found: There is no session of 2026-03-15. The journal has none yet: import footage first.");
  for (const unsigned day : {1U, 20U, 9U, 3U, 12U, 28U}) {
    must(edited(store, [&](Edit& edit) {
      Session session;
      session.date = year{2026} / 3 / std::chrono::day{day};
      return edit.add(session);
    }));
    if (day == 20U) {
      CHECK(refusal(store.session(year{2026} / 3 / 15)) ==
            "not found: There is no session of 2026-03-15. The journal has 2026-03-01 and 2026-03-20.");
    }
  }
  CHECK(refusal(store.session(year{2026} / 3 / 15)) ==
        "not found: There is no session of 2026-03-15. The nearest are 2026-03-03, 2026-03-09, 2026-03-12, 2026-03-20 "
        "and 2026-03-28.");
  CHECK(must(store.sessions()).front().date == year{2026} / 3 / 1);
}

TEST_CASE("hostile names come back as they were written") {
  Store store = filled_store();
  for (const std::string name : {"O'Brien; DROP TABLE person;--", "\"quoted\"", "../../etc/passwd",
                                 "<script>alert(1)</script>", "%s%n", "NULL", "Łucja 梁 🛩"}) {
    CAPTURE(name);
    must(edited(store, [&](Edit& edit) { return edit.add(Person{{}, name, Role::helper}); }));
    CHECK(must(store.known()).person(name) != nullptr);
    Mark mark{{}, {1}, at(1s), name + "\nsecond line\t\"'\\"};
    mark.id = must(edited(store, [&](Edit& edit) { return edit.add(mark); }));
    CHECK(record_of(store).marks.front() == mark);
    must(edited(store, [&](Edit& edit) { return edit.remove(mark.id); }));
  }
  CHECK(must(store.integrity()).empty());
}

TEST_CASE("integrity tells of rows that lead nowhere") {
  const TempFolder folder;
  Store store = must(Store::create(folder / "a.jigtime", sample_build()));
  fill(store);
  CHECK(must(store.integrity()).empty());
  Raw{folder / "a.jigtime"}.must("PRAGMA foreign_keys = OFF; DELETE FROM task WHERE id = 1");
  const auto faults = must(store.integrity());
  REQUIRE(!faults.empty());
  CHECK(holds(faults.front(), "refers to a row of task that is gone"));
}

TEST_CASE("a word that no journal knows is damage, not a guess") {
  const TempFolder folder;
  Store store = must(Store::create(folder / "a.jigtime", sample_build()));
  fill(store);
  Raw{folder / "a.jigtime"}.must("PRAGMA ignore_check_constraints = ON; UPDATE person SET role = 'boss' WHERE id = 1");
  CHECK(holds(refusal(store.known()), "unreadable: "));
  CHECK(holds(refusal(store.known()), "nothing is called \"boss\""));
}
