// Journals of every earlier format, opened by this program.
#include <doctest/doctest.h>

#include <filesystem>

#include "store/as_nobody.h"
#include "store/filled.h"
#include "store/format_1.h"
#include "store/format_2.h"
#include "store/format_3.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "store/schema.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

std::string format_1(const TempFolder& folder) {
  const std::string path = folder / "old.jigtime";
  Raw raw{path};
  raw.must("PRAGMA journal_mode = WAL");
  raw.must(std::string{format_1_tables});
  raw.must(std::string{format_1_rows});
  return path;
}

std::string format_2(const TempFolder& folder) {
  const std::string path = folder / "old.jigtime";
  Raw raw{path};
  raw.must("PRAGMA journal_mode = WAL");
  raw.must(std::string{format_2_tables});
  raw.must(std::string{format_2_rows});
  return path;
}

std::string format_3(const TempFolder& folder) {
  const std::string path = format_2(folder);
  Raw raw{path};
  raw.must(std::string{format_3_step});
  raw.must(std::string{format_3_rows});
  return path;
}

const std::string shape = "SELECT group_concat(trim(sql), ';') FROM (SELECT sql FROM sqlite_schema ORDER BY name)";

}  // namespace

TEST_CASE("the first step still makes the tables of the first format") {
  const TempFolder folder;
  Raw old{format_1(folder)};
  Raw made{folder / "made.jigtime"};
  made.must(store::migrations()[0]);
  CHECK(old.value(shape) == made.value(shape));
}

TEST_CASE("a journal of format 1 is opened with all its rows, and what is new in them is empty") {
  const TempFolder folder;
  const std::string path = format_1(folder);
  const Store store = must(Store::open(path));
  CHECK(Raw{path}.value("PRAGMA user_version") == std::to_string(Store::schema_version));
  CHECK(must(store.integrity()).empty());
  CHECK(must(store.build()).name == "Two-seat low wing");
  CHECK(must(store.build()).regime.empty());
  const journal::Register known = must(store.known());
  REQUIRE(known.tasks.size() == 1);
  CHECK(known.tasks[0] == journal::Task{{1}, "Rivet the skin", journal::AssemblyId{2}, "07", "3a"});
  CHECK(known.people[1] == journal::Person{{2}, "Bo", journal::Role::helper});
  const journal::SessionRecord record = record_of(store);
  REQUIRE(record.spans.size() == 1);
  CHECK(record.spans[0].people == std::vector<journal::PersonId>{{1}, {2}});
  CHECK(record.spans[0].note == "Skin oil-cans.");
  CHECK(!record.spans[0].off_camera);
  CHECK(record.entry->number == 1);
  CHECK(record.items.empty());
  CHECK(!record.clips[0].let_go);
}

TEST_CASE("what a journal of format 1 held is found as before") {
  const TempFolder folder;
  const Store store = must(Store::open(format_1(folder)));
  CHECK(must(store.find("oil")).at(0).kind == store::Hit::Kind::span);
  CHECK(must(store.find("first")).at(0).kind == store::Hit::Kind::mark);
  CHECK(must(store.find("entry")).at(0).kind == store::Hit::Kind::entry);
  CHECK(must(store.find("cold")).at(0).kind == store::Hit::Kind::session);
}

TEST_CASE("a sealed session of format 1 stays sealed") {
  const TempFolder folder;
  const std::string path = format_1(folder);
  Store store = must(Store::open(path));
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.remove(journal::SpanId{1}); })), "conflict: "));
  must(edited(store, [](Edit& edit) { return edit.remove(journal::SpanId{2}); }));
  CHECK(Raw{path}.run("DELETE FROM span_person WHERE span = 1") == store::sealed_signal);
}

TEST_CASE("a journal of format 1 that holds rows without what they refer to is refused and left as it was") {
  const TempFolder folder;
  const std::string path = format_1(folder);
  Raw{path}.must("INSERT INTO planned VALUES (2, 99, 'MS20470AD4-5', 1)");
  CHECK(holds(refusal(Store::open(path)), "unreadable: "));
  CHECK(Raw{path}.value("PRAGMA user_version") == "1");
}

TEST_CASE("the first two steps still make the tables of the second format") {
  const TempFolder folder;
  Raw old{format_2(folder)};
  Raw made{folder / "made.jigtime"};
  made.must(store::migrations()[0]);
  made.must(store::migrations()[1]);
  CHECK(old.value(shape) == made.value(shape));
}

TEST_CASE("a journal of format 2 is opened with all its rows, without a grip and with the regime's name alone") {
  const TempFolder folder;
  const std::string path = format_2(folder);
  const Store store = must(Store::open(path));
  CHECK(Raw{path}.value("PRAGMA user_version") == std::to_string(Store::schema_version));
  CHECK(must(store.integrity()).empty());
  CHECK(must(store.build()).regime == "island");
  CHECK(must(store.build()).regime_text.empty());
  const journal::Register known = must(store.known());
  CHECK(known.planned == std::vector<journal::PlannedFastener>{{{1}, {1}, "MS20426AD3-4.5", 40, std::nullopt}});
  CHECK(known.tasks[0].checklist_line == journal::ChecklistLineId{1});
  const journal::SessionRecord record = record_of(store);
  CHECK(record.spans.at(0).people == std::vector<journal::PersonId>{{1}, {2}});
  CHECK(record.items.at(0).closing->words == "Done at once.");
  CHECK(record.amendments.size() == 1);
  CHECK(must(store.find("oil")).at(0).kind == store::Hit::Kind::span);
  CHECK(must(store.history()).at(0).what == "1 build changed, 1 planned line added");
}

TEST_CASE("what was done in a journal of format 2 can be undone and done again in the newest one") {
  const TempFolder folder;
  Store store = must(Store::open(format_2(folder)));
  must(store.undo());
  CHECK(must(store.build()).place == "Shed 3");
  CHECK(must(store.known()).planned.empty());
  must(store.redo());
  CHECK(must(store.build()).place == "Shed 4");
  CHECK(must(store.known()).planned.size() == 1);
}

TEST_CASE("a planned line of an old journal takes a grip, and no impossible one") {
  const TempFolder folder;
  const std::string path = format_2(folder);
  Store store = must(Store::open(path));
  must(edited(store, [](Edit& edit) { return edit.set_planned({{}, {1}, "MS20426AD3-4.5", 44, 64'000}); }));
  CHECK(must(store.known()).planned.at(0) == journal::PlannedFastener{{1}, {1}, "MS20426AD3-4.5", 44, 64'000});
  for (const int grip : {0, -1, 4'000'001}) {
    CHECK(holds(refusal(edited(store,
                               [&](Edit& edit) {
                                 return edit.set_planned({{}, {1}, "MS20426AD3-4.5", 44, grip});
                               })),
                "Give the thickness of the whole stack"));
  }
  CHECK(Raw{path}.run("UPDATE planned SET grip_uin = 4000001") != "ok");
}

TEST_CASE("the first three steps still make the tables of the third format") {
  const TempFolder folder;
  Raw old{format_3(folder)};
  Raw made{folder / "made.jigtime"};
  for (std::size_t step = 0; step < 3; ++step) made.must(store::migrations()[step]);
  CHECK(old.value(shape) == made.value(shape));
}

TEST_CASE("a journal of format 3 is opened with all its rows, and its sessions began when clocks said so") {
  const TempFolder folder;
  const std::string path = format_3(folder);
  const Store store = must(Store::open(path));
  CHECK(Raw{path}.value("PRAGMA user_version") == std::to_string(Store::schema_version));
  CHECK(must(store.integrity()).empty());
  CHECK(must(store.build()).regime_text == "jigtime regime 1");
  CHECK(must(store.known()).planned.at(0).grip_uin == 64'000);
  const std::vector<journal::Session> sessions = must(store.sessions());
  REQUIRE(sessions.size() == 2);
  CHECK(sessions[0].zero == WallTime{std::chrono::seconds{1'773'475'200} + std::chrono::nanoseconds{5}});
  CHECK(!sessions[0].zero_fixed);
  CHECK(!sessions[1].zero_fixed);
  CHECK(must(store.history()).at(0).what == "1 session changed, 1 planned line changed");
}

TEST_CASE("what was done in a journal of format 3 can be undone and done again in the newest one") {
  const TempFolder folder;
  Store store = must(Store::open(format_3(folder)));
  must(store.undo());
  CHECK(must(store.sessions()).at(1).note.empty());
  CHECK(!must(store.known()).planned.at(0).grip_uin);
  must(store.redo());
  CHECK(must(store.sessions()).at(1).note == "Warm.");
  CHECK(must(store.known()).planned.at(0).grip_uin == 64'000);
}

TEST_CASE("the builder's own word on when a session of an old journal began is kept, undone and done again") {
  const TempFolder folder;
  Store store = must(Store::open(format_3(folder)));
  journal::Session session = must(store.sessions()).at(1);
  session.zero = WallTime{std::chrono::hours{24}};
  session.zero_fixed = true;
  must(edited(store, [&](Edit& edit) { return edit.update(session); }));
  CHECK(must(store.sessions()).at(1) == session);
  must(store.undo());
  CHECK(!must(store.sessions()).at(1).zero_fixed);
  must(store.redo());
  CHECK(must(store.sessions()).at(1) == session);
}

TEST_CASE("rows from before a column was added can be changed and taken out, and undo brings them back") {
  const TempFolder folder;
  Store store = must(Store::open(format_1(folder)));
  const journal::SessionRecord before = must(store.record({2}));
  const journal::Register known = must(store.known());
  const journal::Build build = must(store.build());
  must(edited(store, [](Edit& edit) { return edit.remove(journal::SpanId{2}); }));
  must(edited(store, [](Edit& edit) { return edit.set_planned({{}, {1}, "MS20426AD3-4.5", 0, std::nullopt}); }));
  must(edited(store, [&](Edit& edit) {
    journal::Build other = build;
    other.regime = "island";
    other.regime_text = "jigtime regime 1";
    return edit.set_build(other);
  }));
  must(edited(store, [](Edit& edit) { return edit.merge(journal::PersonId{2}, journal::PersonId{1}); }));
  for (int i = 0; i < 4; ++i) must(store.undo());
  CHECK(must(store.record({2})) == before);
  CHECK(must(store.known()).people == known.people);
  CHECK(must(store.known()).planned == known.planned);
  CHECK(must(store.build()) == build);
  CHECK(must(store.integrity()).empty());
}

TEST_CASE("a journal of every earlier format is shown also where it cannot be written, and stays as it is") {
  for (const auto& make : {format_1, format_2, format_3}) {
    const TempFolder folder;
    const std::string path = make(folder);
    const std::string before = bytes_of(path);
    std::filesystem::permissions(folder.path(), std::filesystem::perms{0755});
    std::filesystem::permissions(path, std::filesystem::perms{0444});
    const AsNobody nobody;
    const auto store = Store::open(path);
    REQUIRE_MESSAGE(store.ok(), refusal(store));
    CHECK_FALSE(store->sessions()->empty());
    CHECK(bytes_of(path) == before);
  }
}
