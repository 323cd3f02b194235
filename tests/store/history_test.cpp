// As in src/store/history.cpp: the session functions are declared only when asked for.
#define SQLITE_ENABLE_SESSION 1
#define SQLITE_ENABLE_PREUPDATE_HOOK 1
#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <chrono>

#include "store/filled.h"
#include "store/journal_file.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

struct Fixture : JournalFile {
  std::string labels() {
    return Raw{path}.value("SELECT group_concat(label, ', ') FROM (SELECT label FROM edit ORDER BY id)");
  }
};

int refuse_conflicts(void*, int, sqlite3_changeset_iter*) { return SQLITE_CHANGESET_ABORT; }

/// Takes back the newest edit with its kept change set, from outside.
int take_back_newest(const std::filesystem::path& path) {
  SQLite::Database database{path.string(), SQLite::OPEN_READWRITE};
  SQLite::Statement newest{database, "SELECT changes FROM edit ORDER BY id DESC LIMIT 1"};
  REQUIRE(newest.executeStep());
  const std::string changes = newest.getColumn(0).getString();
  newest.reset();
  int size = 0;
  void* inverse = nullptr;
  REQUIRE(sqlite3changeset_invert(static_cast<int>(changes.size()), changes.data(), &size, &inverse) == SQLITE_OK);
  const int code = sqlite3changeset_apply(database.getHandle(), size, inverse, nullptr, refuse_conflicts, nullptr);
  sqlite3_free(inverse);
  return code;
}

}  // namespace

TEST_CASE_FIXTURE(Fixture, "every edit that changed the record is kept with its label and time") {
  const auto now = [] { return std::chrono::system_clock::now().time_since_epoch().count(); };
  const auto before = now();
  fill(store);
  must(store.edit("set a \"mark\"", [](Edit& edit) -> Done {
    must(edit.add(Mark{{}, {1}, at(1s), "one"}));
    return {};
  }));
  CHECK(labels() == "fill, set a \"mark\"");
  const auto kept = std::stoll(Raw{path}.value("SELECT at_ns FROM edit ORDER BY id DESC"));
  CHECK(kept >= before);
  CHECK(kept <= now());
}

TEST_CASE_FIXTURE(Fixture, "an edit that failed or changed nothing is not kept") {
  fill(store);
  must(store.edit("nothing", [](Edit&) -> Done { return {}; }));
  must(store.edit("the same again", [](Edit& edit) { return edit.update(Person{{1}, "Ana", Role::builder}); }));
  CHECK(!store.edit("failed", [](Edit& edit) -> Done {
    must(edit.add(Mark{{}, {1}, at(1s), "one"}));
    return Error{Code::cancelled, "No."};
  }));
  CHECK(labels() == "fill");
}

TEST_CASE_FIXTURE(Fixture, "the kept changes of an edit are enough to take it back") {
  fill(store);
  const SessionRecord before = record_of(store);
  const std::vector<std::function<Done(Edit&)>> deeds = {
      [](Edit& edit) { return edit.remove(SpanId{1}); },
      [](Edit& edit) {
        Span span = sample_record().spans[0];
        span.people = {{2}};
        span.fasteners.pop_back();
        span.note = "changed";
        return edit.update(span);
      },
      [](Edit& edit) {
        return edit.set_placement({{1}, Basis::none, {}, {}, {}});
      },
      [](Edit& edit) { return edit.set_proposals({1}, {}); },
      [](Edit& edit) {
        must(edit.add(Mark{{}, {1}, at(1s), "phantom"}));
        must(edit.add(sample_record().spans[1]));
        return edit.relink(journal::PartId{1}, "/b.mp4");
      },
  };
  for (std::size_t i = 0; i < deeds.size(); ++i) {
    CAPTURE(i);
    must(store.edit("deed", deeds[i]));
    CHECK(record_of(store) != before);
    CHECK(take_back_newest(path) == SQLITE_OK);
    CHECK(record_of(store) == before);
    CHECK(must(store.find("phantom")).empty());
    CHECK(must(store.find("oil")).size() == 1);
    CHECK(must(store.integrity()).empty());
    must(store.edit("move the newest on",
                    [&](Edit& edit) { return edit.relink(journal::PartId{2}, "/" + std::to_string(i)); }));
    must(store.edit("and back",
                    [&](Edit& edit) { return edit.relink(journal::PartId{2}, before.clips[0].parts[1].path); }));
  }
}
