// Journals of every earlier format, opened by this program.
#include <doctest/doctest.h>

#include "store/filled.h"
#include "store/format_1.h"
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

}  // namespace

TEST_CASE("the first step still makes the tables of the first format") {
  const TempFolder folder;
  Raw old{format_1(folder)};
  Raw made{folder / "made.jigtime"};
  made.must(store::migrations()[0]);
  const std::string shape = "SELECT group_concat(trim(sql), ';') FROM (SELECT sql FROM sqlite_schema ORDER BY name)";
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
