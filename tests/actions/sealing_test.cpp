#include "actions/sealing.h"

#include <doctest/doctest.h>

#include <fstream>
#include <set>

#include "actions/footage.h"
#include "actions/history.h"
#include "actions/items.h"
#include "actions/shelf.h"
#include "actions/spans.h"
#include "store/filled.h"
#include "store/raw.h"
#include "store/schema.h"
#include "store/signing.h"
#include "support/temp_folder.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

constexpr WallTime then{1'773'500'000s};

/// The sample session, sealed as entry 1, with an amendment as entry 2 and both signed; as a file.
struct SealedFile {
  TempFolder folder;
  std::string path = folder / "a.jigtime";
  std::string key;

  SealedFile() {
    make();
    // So that everything is in the one file, and nothing guards it any more.
    Raw raw{path};
    raw.must("PRAGMA journal_mode = DELETE");
    const std::string drops = raw.value(
        "SELECT group_concat('DROP TRIGGER \"' || name || '\";', ' ') FROM sqlite_schema WHERE type = 'trigger'");
    raw.must(drops);
  }

  void make() {
    store::Store store = must(store::Store::create(path, sample_build()));
    fill(store);
    must(store.edit("let go", [](store::Edit& edit) {
      return edit.let_go({2}, {std::chrono::year{2026} / 5 / 1, "The disk was full."});
    }));
    must(seal_session(store, {1}, then));
    must(amend_session(store, {1}, "31 set", "30 set", "Counted again.", then));
    key = must(make_key(folder / "mara.key"));
    must(sign_entry(store, 1, folder / "mara.key"));
    must(sign_entry(store, 2, folder / "mara.key"));
  }

  /// What verify says of the journal as it lies there now: "sound", the first fault, or why it cannot be read.
  std::string verdict() const {
    const auto store = store::Store::open(path);
    if (!store) return store.error().message();
    const auto found = verify_journal(*store, {});
    if (!found) return found.error().message();
    if (!found->sound()) return found->faults.front();
    return found->renamed.empty() ? "sound" : found->renamed.front();
  }
};

/// Ways to spoil one column of all rows of a table, as SQL expressions over its old value.
std::vector<std::string> spoilt(const std::string& column, const std::string& type, int length) {
  if (type == "INTEGER") return {column + " + 1", column + " - 1"};
  std::vector<std::string> ways;
  const std::string bytes = "CAST(" + column + " AS BLOB)";
  for (int i = 1; i <= length; ++i) {
    const std::string at = std::to_string(i);
    // The byte at i, exchanged for another one that is text too.
    const std::string other = "CASE substr(" + bytes + ", " + at + ", 1) WHEN x'61' THEN x'62' ELSE x'61' END";
    ways.push_back("CAST(substr(" + bytes + ", 1, " + at + " - 1) || " + other + " || substr(" + bytes + ", " + at +
                   " + 1) AS " + type + ")");
  }
  return ways;
}

}  // namespace

TEST_CASE("a changed byte in any sealed field of the file is found") {
  const SealedFile sealed;
  REQUIRE(sealed.verdict() == "sound");
  // What no seal is about: settings and registers are told as renames, folders may change, proposals count for nothing,
  // and the ids of entries stand nowhere else.
  const std::set<std::string> not_sealed{"person",          "assembly",   "task",         "planned",
                                         "build",           "camera",     "checklist",    "checklist_line",
                                         "proposal",        "entry.id",   "amendment.id", "part.path",
                                         "unreadable.path", "photo.path", "part.id",      "tie.id",
                                         "inspection.id",   "photo.id",   "still.id",     "let_go.kept_size_bytes"};
  int tried = 0;
  for (const std::string_view name : store::record_tables()) {
    const std::string table{name};
    if (not_sealed.contains(table)) continue;
    const std::string info = "pragma_table_info('" + table + "')";
    const int columns = std::stoi(Raw{sealed.path}.value("SELECT count(*) FROM " + info));
    for (int i = 0; i < columns; ++i) {
      Raw raw{sealed.path};
      raw.must("PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY");
      const std::string here = " FROM " + info + " WHERE cid = " + std::to_string(i);
      const std::string column = raw.value("SELECT name" + here);
      const std::string type = raw.value("SELECT type" + here);
      // Positions stand for the order, which stays when all rows of a clip or a span move on together.
      if (not_sealed.contains(table + "." + column) || column == "position") continue;
      const std::string longest =
          raw.value("SELECT ifnull(max(length(CAST(" + column + " AS BLOB))), 0) FROM " + table);
      if (longest == "0") continue;
      // Long texts are under a digest as a whole: some bytes of them are enough.
      const int length = std::stoi(longest);
      const std::vector<std::string> ways = spoilt(column, type, length);
      for (std::size_t way = 0; way<ways.size(); way += length> 300 ? 97 : 1) {
        CAPTURE(table);
        CAPTURE(column);
        CAPTURE(way);
        raw.must("PRAGMA ignore_check_constraints = ON");
        raw.must("CREATE TABLE kept AS SELECT * FROM " + table);
        if (raw.run("UPDATE " + table + " SET " + column + " = " + ways[way]) == "ok") {
          ++tried;
          CHECK(sealed.verdict() != "sound");
        }
        raw.must("PRAGMA foreign_keys = OFF");
        raw.must("DELETE FROM " + table);
        raw.must("INSERT INTO " + table + " SELECT * FROM kept");
        raw.must("DROP TABLE kept");
      }
    }
  }
  CHECK(sealed.verdict() == "sound");
  CHECK(tried > 300);
  MESSAGE(tried << " changes tried");
}

TEST_CASE("a row taken out of a sealed session, or put into it, is found") {
  const SealedFile sealed;
  for (const std::string sql :
       {"DELETE FROM span_person WHERE person = 2", "DELETE FROM mark", "DELETE FROM item_closing", "DELETE FROM still",
        "DELETE FROM let_go", "DELETE FROM inspection_clearing", "DELETE FROM amendment", "DELETE FROM clip_note",
        "INSERT INTO mark (session, at_ns, note) VALUES (1, 5, 'later')",
        "INSERT INTO span (session, kind, begin_ns, end_ns, note) VALUES (1, 'break', 5, 6, '')",
        "INSERT INTO photo SELECT 9, session, path, size_bytes, digest, camera, source, kind, edge, since_epoch_ns, "
        "resolution_ns, clock_text, at_ns, sigma_ns, note FROM photo"}) {
    CAPTURE(sql);
    const TempFolder copies;
    SealedFile copy;
    Raw{copy.path}.must(sql);
    CHECK(copy.verdict() != "sound");
  }
}

TEST_CASE("a rename after the seal is told as a rename, and is no fault") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  REQUIRE(seal_session(desk.store, desk.session, then));
  REQUIRE(rename(desk.store, Shelved::task, "Rivet", "Rivet the skin"));
  REQUIRE(rename(desk.store, Shelved::person, "Mara", "Mara Lind"));
  const auto found = verify_journal(desk.store, {});
  REQUIRE(found);
  CHECK(found->sound());
  CHECK(found->renamed ==
        std::vector<std::string>{"Entry 1: The person was sealed as \"Mara\" and is \"Mara Lind\" now.",
                                 "Entry 1: The task was sealed as \"Rivet\" and is \"Rivet the skin\" now."});
}

TEST_CASE("a merge, another assembly and another role after the seal are no faults either") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  REQUIRE(seal_session(desk.store, desk.session, then));
  desk.session = desk.add_session(2026, 3, 15);
  desk.tag(0min, 10min, "Rivet skin", {"M. Lind"});
  REQUIRE(merge(desk.store, Shelved::task, "Rivet", "Rivet skin"));
  REQUIRE(merge(desk.store, Shelved::person, "Mara", "M. Lind"));
  CHECK(verify_journal(desk.store, {})->sound());
  CHECK(verify_journal(desk.store, {})->renamed.empty());
  REQUIRE(desk.store.edit("role", [&](store::Edit& edit) -> Done {
    journal::Person person = desk.known().people[0];
    person.role = journal::Role::hired;
    if (Done updated = edit.update(person); !updated) return updated;
    journal::Build build = *desk.store.build();
    build.place = "Hangar 9";
    return edit.set_build(build);
  }));
  const auto found = verify_journal(desk.store, {});
  CHECK(found->sound());
  CHECK(found->renamed.size() == 2);
}

TEST_CASE("a change of the record is named by what was sealed and what holds now") {
  const SealedFile sealed;
  Raw{sealed.path}.must("UPDATE span SET end_ns = end_ns + 1 WHERE id = 1");
  CHECK(holds(sealed.verdict(), "Entry 1 (2026-03-14) was sealed with \"hours"));
  Raw{sealed.path}.must("UPDATE span SET end_ns = end_ns - 1 WHERE id = 1");
  Raw{sealed.path}.must("UPDATE mark SET note = 'Second rivet.'");
  CHECK(sealed.verdict() ==
        "Entry 1 (2026-03-14) was sealed with \"mark 1 note: First rivet.\" where the journal now holds \"mark 1 note: "
        "Second rivet.\".");
}

TEST_CASE("a span moved to another task is a fault, not a rename") {
  const SealedFile sealed;
  Raw{sealed.path}.must("UPDATE span SET task = 2 WHERE id = 1");
  CHECK(holds(sealed.verdict(), "Entry 1 (2026-03-14) was sealed with "));
}

TEST_CASE("what may come later to a sealed session is no fault") {
  store::Store store = filled_store();
  must(store.edit("reopen", [](store::Edit& edit) -> Done {
    journal::Inspection inspection = sample_record().inspections[0];
    inspection.cleared_on.reset();
    return edit.update(inspection);
  }));
  must(seal_session(store, {1}, then));
  CHECK(verify_journal(store, {})->sound());
  must(clear_inspection(store, {1}, std::chrono::year{2026} / 4 / 1));
  must(close_item(store, {2}, std::chrono::year{2026} / 4 / 1, "came by post"));
  must(let_footage_go(store, {1}, {"a1.mp4", "Full.", std::chrono::year{2026} / 5 / 1, {}}, {}));
  must(store.edit("move", [](store::Edit& edit) { return edit.relink(journal::PartId{1}, "/new/z9.mp4"); }));
  const auto found = must(verify_journal(store, {}));
  CHECK(found.sound());
  CHECK(found.let_go.size() == 2);
  CHECK(!found.missing.empty());
}

TEST_CASE("an amendment keeps both texts, is linked into the chain and is found") {
  TaggedDesk desk;
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  CHECK(
      holds(said(amend_session(desk.store, desk.session, "a", "b", "c", then)), "conflict: The session of 2026-03-14"));
  const auto sealed = seal_session(desk.store, desk.session, then);
  REQUIRE(sealed);
  CHECK(holds(said(amend_session(desk.store, desk.session, "a", "b", " ", then)),
              "invalid: An amendment needs a reason"));
  CHECK(holds(said(amend_session(desk.store, desk.session, "a", " ", "c", then)), "invalid: "));
  const auto amendment = amend_session(desk.store, desk.session, "10 min", "12 min", "The clock had stopped.", then);
  REQUIRE(amendment);
  CHECK(amendment->number == 2);
  CHECK(amendment->previous == sealed->entry.digest);
  CHECK(amendment->text ==
        "amendment of entry: 1\nreason: The clock had stopped.\nbefore: 10 min\nafter: 12 min\nentry: 2\n"
        "sealed at: 2026-03-14T14:53:20.000000000Z\n");
  CHECK(desk.record().amendments == std::vector<journal::Entry>{*amendment});
  CHECK(desk.store.find("stopped")->size() == 1);
  CHECK(holds(said(undo(desk.store)), "conflict: "));
  desk.session = desk.add_session(2026, 3, 15);
  desk.tag(0min, 10min, "Rivet", {"Mara"});
  CHECK(seal_session(desk.store, desk.session, then)->entry.number == 3);
  CHECK(verify_journal(desk.store, {})->sound());
  CHECK(verify_journal(desk.store, {})->entries == 3);
}

TEST_CASE("a signature is right for its entry and key alone") {
  const TempFolder folder;
  TaggedDesk desk;
  REQUIRE(seal_session(desk.store, desk.session, then));
  const auto key = make_key(folder / "mara.key");
  REQUIRE(key);
  CHECK(*public_key(folder / "mara.key") == *key);
  const auto signature = sign_entry(desk.store, 1, folder / "mara.key");
  REQUIRE(signature);
  const auto found = verify_journal(desk.store, {});
  REQUIRE(found->signed_by.size() == 1);
  CHECK(found->signed_by[0].public_key == *key);
  const std::string digest = desk.record().entry->digest;
  CHECK(store::is_signed(*key, digest, signature->signature));
  CHECK(!store::is_signed(*key, store::sha256_hex(digest), signature->signature));
  CHECK(!store::is_signed(*make_key(folder / "bo.key"), digest, signature->signature));
  CHECK(!store::is_signed(*key, digest, std::string(128, '0')));
  CHECK(!store::is_signed("", digest, ""));
  CHECK(holds(said(sign_entry(desk.store, 1, folder / "mara.key")), "conflict: "));
  CHECK(holds(said(sign_entry(desk.store, 2, folder / "mara.key")), "not found: There is no entry 2"));
}

TEST_CASE("a key file is its owner's alone, never overwritten, and read only when it is whole") {
  const TempFolder folder;
  const std::filesystem::path path = folder / "mara.key";
  REQUIRE(make_key(path));
  CHECK(std::filesystem::status(path).permissions() ==
        (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
  CHECK(holds(said(make_key(path)), "invalid: "));
  CHECK(holds(said(public_key(folder / "none.key")), "not found: "));
  std::string text;
  {
    std::ifstream in{path};
    for (std::string line; std::getline(in, line);) text += line + "\n";
  }
  for (std::size_t i = 0; i + 1 < text.size(); i += 7) {
    CAPTURE(i);
    std::string spoilt_text = text;
    spoilt_text[i] = spoilt_text[i] == '0' ? '1' : '0';
    std::ofstream{path} << spoilt_text;
    const auto key = public_key(path);
    // The words before the colon are for people.
    const std::string line = spoilt_text.substr(spoilt_text.rfind('\n', i) + 1);
    const bool words =
        spoilt_text.rfind('\n', i) != std::string::npos && i < spoilt_text.find(": ", spoilt_text.rfind('\n', i));
    if (!words) CHECK(holds(said(key), "unreadable: "));
  }
}
