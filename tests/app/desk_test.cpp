#include "app/backroom/desk.h"

#include <doctest/doctest.h>

#include <chrono>

#include "actions/shelf.h"
#include "actions/shop.h"
#include "actions/tagging.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

/// A journal of one day, a desk on it, and what the window has heard from it.
struct OpenDesk {
  test::TempFolder folder;
  std::filesystem::path path = folder / "a.jigtime";
  Mailbox mailbox{[] {}};
  std::shared_ptr<const Snapshot> snapshot;
  std::vector<Told> told;
  std::optional<Error> refused;
  std::unique_ptr<Desk> desk;

  void make() const {
    auto made = actions::new_journal(path, {"Marten, serial 7", "", "", "Europe/Lisbon"});
    REQUIRE(made);
    journal::Session session;
    session.date = std::chrono::year{2026} / 3 / 14;
    REQUIRE(actions::add_session(*made, session));
  }

  void open() {
    Desk::Replies replies;
    replies.snapshot = [this](std::shared_ptr<const Snapshot> fresh) { snapshot = std::move(fresh); };
    replies.told = [this](Told words) { told.push_back(std::move(words)); };
    replies.not_opened = [this](const Error& error) { refused = error; };
    desk = std::make_unique<Desk>(path, mailbox, std::move(replies));
  }

  template <class Ready>
  bool until(Ready&& ready) {
    for (int i = 0; i < 1000 && !ready(); ++i) {
      std::this_thread::sleep_for(10ms);
      mailbox.open();
    }
    return ready();
  }

  void tag(Length from, Length to) const {
    actions::SpanWords words;
    words.from = SessionTime{from};
    words.to = SessionTime{to};
    words.task = "Rivet";
    words.people = {"Tova"};
    const auto session = snapshot->bench->record.session.id;
    desk->do_it([session, words](store::Store& store) -> Result<std::string> {
      const auto tagged = actions::add_spans(store, session, {words});
      if (!tagged) return tagged.error();
      return std::string{"tagged"};
    });
  }

  std::size_t spans() const { return snapshot && snapshot->bench ? snapshot->bench->record.spans.size() : 0; }
};

}  // namespace

TEST_CASE("an opened journal shows its last session, and an edit comes back as a new snapshot") {
  OpenDesk open;
  open.make();
  open.open();
  REQUIRE(open.until([&] { return open.snapshot && open.snapshot->ledger; }));
  CHECK(open.snapshot->build.name == "Marten, serial 7");
  REQUIRE(open.snapshot->bench);
  open.tag(10min, 20min);
  REQUIRE(open.until([&] { return open.spans() == 1; }));
  CHECK(open.snapshot->bench->recent == std::vector<std::string>{"Rivet"});
  CHECK(open.snapshot->undo == "tag a span");
  CHECK(open.until([&] { return open.snapshot->ledger->by_task.person_time == 10min; }));
  CHECK(open.told.back().words == "tagged");
}

TEST_CASE("a refused edit is told and changes nothing") {
  OpenDesk open;
  open.make();
  open.open();
  REQUIRE(open.until([&] { return open.snapshot != nullptr; }));
  open.tag(20min, 10min);
  REQUIRE(open.until([&] { return !open.told.empty(); }));
  CHECK(open.told.back().failed);
  CHECK(open.spans() == 0);
}

TEST_CASE("a deed that throws takes neither the desk nor the window down") {
  OpenDesk open;
  open.make();
  open.open();
  open.desk->do_it([](store::Store&) -> Result<std::string> { throw std::runtime_error{"ink is out"}; });
  REQUIRE(open.until([&] { return !open.told.empty(); }));
  CHECK(open.told.back().words.find("ink is out") != std::string::npos);
  REQUIRE(open.until([&] { return open.snapshot != nullptr; }));
  open.tag(10min, 20min);
  CHECK(open.until([&] { return open.spans() == 1; }));
}

TEST_CASE("what was asked for before the window closes is still done") {
  OpenDesk open;
  open.make();
  open.open();
  REQUIRE(open.until([&] { return open.snapshot != nullptr; }));
  for (int i = 0; i < 20; ++i) open.tag(i * 1min, i * 1min + 30s);
  open.desk.reset();
  auto store = actions::open_journal(open.path);
  REQUIRE(store);
  CHECK(store->record(store->sessions()->front().id)->spans.size() == 20);
}

TEST_CASE("a file that is no journal is refused, and the desk ends in peace") {
  OpenDesk open;
  open.open();
  REQUIRE(open.until([&] { return open.refused.has_value(); }));
  CHECK(open.refused->code() == Code::not_found);
  open.desk->refresh();
  open.desk.reset();
}

TEST_CASE("undo names the last edit that holds, redo the last that was taken back") {
  using store::Change;
  const auto edit = [](const char* label, bool undone) {
    Change change;
    change.label = label;
    change.undone = undone;
    return change;
  };
  const auto deed = [](Change::Deed kind, const char* label) {
    Change change;
    change.deed = kind;
    change.label = label;
    return change;
  };
  const std::vector<Change> two_taken_back{deed(Change::Deed::undo, "split"), deed(Change::Deed::undo, "mark"),
                                           edit("mark", true), edit("split", true), edit("tag", false)};
  CHECK(undoable(two_taken_back).undo == "tag");
  CHECK(undoable(two_taken_back).redo == "split");
  std::vector<Change> one_done_again = two_taken_back;
  one_done_again[3].undone = false;
  one_done_again.insert(one_done_again.begin(), deed(Change::Deed::redo, "split"));
  CHECK(undoable(one_done_again).undo == "split");
  CHECK(undoable(one_done_again).redo == "mark");
  std::vector<Change> edited_since = two_taken_back;
  edited_since.insert(edited_since.begin(), edit("note", false));
  CHECK(undoable(edited_since).redo.empty());
  Change sealed = edit("seal", false);
  sealed.stays = true;
  CHECK(undoable({sealed, edit("tag", false)}).undo == "tag");
  CHECK(undoable({}).undo.empty());
}
