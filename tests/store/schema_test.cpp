#include "store/schema.h"

#include <doctest/doctest.h>

#include <set>

#include "journal/seal.h"
#include "store/filled.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

const std::set<std::string> shared = {"build",   "person", "assembly",  "task",
                                      "planned", "camera", "checklist", "checklist_line"};

std::string sealed_journal(const TempFolder& folder) {
  const std::string path = folder / "a.jigtime";
  Store store = must(Store::create(path, sample_build()));
  fill(store);
  const journal::LetGo let_go{std::chrono::year{2026} / 5 / 1, "The disk was full."};
  must(edited(store, [&](Edit& edit) { return edit.let_go(journal::ClipId{2}, let_go); }));
  must(edited(store, [&](Edit& edit) {
    return edit.add(
        journal::next_entry({}, sample_build(), sample_register(), record_of(store), {}, store::sha256_hex));
  }));
  const auto entries = must(store.entries());
  must(edited(store, [&](Edit& edit) {
    return edit.add(journal::next_amendment(entries, entries[0], "Slip.", "31 set", "30 set", {}, store::sha256_hex));
  }));
  must(edited(store, [&](Edit& edit) {
    return edit.add(journal::Signature{1, std::string(64, 'a'), std::string(128, 'b')});
  }));
  return path;
}

}  // namespace

TEST_CASE("the sample has a row in every table of the record") {
  const TempFolder folder;
  Raw raw{sealed_journal(folder)};
  for (const std::string_view table : store::record_tables()) {
    CAPTURE(std::string{table});
    CHECK(raw.value("SELECT count(*) > 0 FROM " + std::string{table}) == "1");
  }
}

TEST_CASE("every table of the record is strict and known to the history") {
  const TempFolder folder;
  Raw raw{sealed_journal(folder)};
  CHECK(raw.value("SELECT group_concat(name) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
                  "AND name NOT LIKE 'sqlite%' AND NOT strict") == "");
  const std::string count = raw.value(
      "SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
      "AND name NOT LIKE 'sqlite%' AND name <> 'edit'");
  CHECK(count == std::to_string(store::record_tables().size()));
}

TEST_CASE("another program is refused every change of a sealed session's rows") {
  const TempFolder folder;
  Raw raw{sealed_journal(folder)};
  raw.must("PRAGMA foreign_keys = OFF");
  for (const std::string_view row : store::record_tables()) {
    const std::string table{row};
    if (shared.contains(table)) continue;
    CAPTURE(table);
    const std::string column =
        raw.value("SELECT name FROM pragma_table_info('" + table + "') WHERE name NOT IN ('path') ORDER BY cid DESC");
    CHECK(raw.run("UPDATE " + table + " SET " + column + " = " + column) == store::sealed_signal);
    CHECK(raw.run("DELETE FROM " + table) == store::sealed_signal);
    if (table == "session" || table == "entry") continue;
    CHECK(raw.run("INSERT INTO " + table + " SELECT * FROM " + table) == store::sealed_signal);
    CHECK(raw.run("REPLACE INTO " + table + " SELECT * FROM " + table) == store::sealed_signal);
  }
}

TEST_CASE("another program may still say where a sealed part lies now") {
  const TempFolder folder;
  Raw raw{sealed_journal(folder)};
  CHECK(raw.run("UPDATE part SET path = x'2F61'") == "ok");
  for (const std::string column : {"size_bytes", "digest", "clip_from_ns", "length_ns", "position"}) {
    CAPTURE(column);
    CHECK(raw.run("UPDATE part SET " + column + " = " + column) == store::sealed_signal);
  }
}

TEST_CASE("the file itself refuses rows that break the record's form") {
  const TempFolder folder;
  const std::string path = folder / "a.jigtime";
  {
    Store store = must(Store::create(path, sample_build()));
    fill(store);
  }
  Raw raw{path};
  raw.must("PRAGMA foreign_keys = ON");
  for (const std::string sql :
       {"INSERT INTO span (session, kind, begin_ns, end_ns, task, note) VALUES (1, 'work', 5, 5, 1, '')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, task, note) VALUES (1, 'work', -1, 5, 1, '')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, note) VALUES (1, 'work', 1, 5, '')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, note) VALUES (9, 'break', 1, 5, '')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, note) VALUES (1, 'pause', 1, 5, '')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, note) VALUES (1, 'break', 1.5, 5, '')",
        "INSERT INTO build SELECT 2, name, registration, place, zone, rounding, regime FROM build",
        "INSERT INTO person (name, role) VALUES ('Ana', 'helper')", "DELETE FROM person WHERE id = 1",
        "DELETE FROM task WHERE id = 1", "DELETE FROM camera WHERE id = 1", "DELETE FROM session",
        "UPDATE span_fastener SET drilled = set_count + 1", "UPDATE part SET digest = x'00'",
        "INSERT INTO assembly (name) VALUES ('Tail')", "UPDATE session SET zero_fixed = 2",
        "UPDATE session SET zero_ns = NULL"}) {
    CAPTURE(sql);
    CHECK(raw.run(sql) != "ok");
  }
}
