#include <doctest/doctest.h>

#include <random>
#include <set>

#include "journal/seal.h"
#include "store/canonical.h"
#include "store/filled.h"
#include "store/journal_file.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Change;
using store::Edit;
using store::Store;

namespace {

struct Fixture : JournalFile {
  void note(const std::string& text) {
    must(store.edit("set a mark", [&](Edit& edit) -> Done {
      must(edit.add(Mark{{}, {1}, at(1s), text}));
      return {};
    }));
  }
  void seal() {
    must(store.edit("seal a session", [&](Edit& edit) -> Done {
      must(edit.add(next_entry(must(store.entries()), sample_build(), sample_register(), record_of(store), {},
                               store::sha256_hex)));
      return {};
    }));
  }
};

/// Edits of every kind on rows drawn by chance; many are refused, and some are rolled back.
class Chance {
 public:
  /// A merge reaches into every session that is not sealed; where that is not wanted, a mark is set instead.
  enum class Reach { everywhere, one_session };
  explicit Chance(unsigned seed, Reach reach = Reach::everywhere) : dice_{seed}, reach_{reach} {}

  Done change(Edit& edit, int round) {
    const std::string word = "round " + std::to_string(round);
    for (std::int64_t step = roll(3); step >= 0; --step) one(edit, word + "." + std::to_string(step));
    if (roll(8) == 0) return Error{Code::cancelled, "rolled back"};
    return {};
  }

 private:
  std::int64_t roll(std::int64_t below) {
    return static_cast<std::int64_t>(dice_() % static_cast<unsigned long>(below));
  }
  template <class Result>
  static void either(const Result&) {}

  void one(Edit& edit, const std::string& word) {
    SessionRecord sample = sample_record();
    Span span = sample.spans[static_cast<std::size_t>(roll(2))];
    span.id = {1 + roll(9)};
    span.note = word;
    if (roll(2) == 0) std::reverse(span.people.begin(), span.people.end());
    if (roll(3) == 0) span.fasteners.clear();
    OpenItem item = sample.items[static_cast<std::size_t>(roll(2))];
    item.id = {1 + roll(5)};
    item.words = word;
    if (roll(2) == 0) item.closing.reset();
    Checklist list = sample_register().checklists[0];
    list.id = {1 + roll(2)};
    list.name = word;
    std::reverse(list.lines.begin(), list.lines.end());
    if (roll(3) == 0) list.lines.push_back({{}, word, word, "", true, {0, 0, 10, 0}});
    Clip clip = sample_clip(1 + roll(3), {1 + roll(2)});
    std::int64_t deed = roll(25);
    if (reach_ == Reach::one_session && (deed == 10 || deed == 13 || deed == 16)) deed = 6;
    switch (deed) {
      case 0: return either(edit.add(span));
      case 1: return either(edit.update(span));
      case 2: return either(edit.remove(span.id));
      case 3: return either(edit.add(item));
      case 4: return either(edit.update(item));
      case 5: return either(edit.remove(item.id));
      case 6: return either(edit.add(Mark{{}, {1}, at(2s), word}));
      case 7: return either(edit.remove(MarkId{1 + roll(4)}));
      case 8: return either(edit.add(Person{{}, word, Role::hired}));
      case 9: return either(edit.update(Person{{1 + roll(4)}, word, Role::builder, {roll(2) == 0}}));
      case 10: return either(edit.merge(PersonId{1 + roll(5)}, PersonId{1 + roll(5)}));
      case 11: return either(edit.add(Task{{}, word, AssemblyId{1 + roll(3)}, "", "", TaskId{1 + roll(4)}}));
      case 12: return either(edit.update(Task{{1 + roll(4)}, word, AssemblyId{1 + roll(3)}, "1", "2"}));
      case 13: return either(edit.merge(TaskId{1 + roll(4)}, TaskId{1 + roll(4)}));
      case 14: return either(edit.set_planned({{}, {1 + roll(3)}, "MS20470AD4-5", static_cast<int>(roll(9))}));
      case 15: return either(edit.add(Assembly{{}, AssemblyId{1 + roll(3)}, word}));
      case 16: return either(edit.merge(AssemblyId{1 + roll(4)}, AssemblyId{1 + roll(4)}));
      case 17: return either(edit.add(list));
      case 18: return either(edit.update(list));
      case 19: return either(edit.remove(list.id));
      case 20: return either(edit.remove(clip.id));
      case 21: return either(edit.add(clip));
      case 22: return either(edit.set_placement(sample_placement({1 + roll(3)}, {1 + roll(3)})));
      case 23: return either(edit.let_go({1 + roll(3)}, LetGo{std::chrono::year{2026} / 4 / 1, word}));
      default:
        return either(
            edit.set_proposals({1}, std::vector<Proposal>(static_cast<std::size_t>(roll(3)), sample.proposals[0])));
    }
  }

  std::mt19937 dice_;
  Reach reach_;
};

}  // namespace

TEST_CASE("random edits undone one by one give back every earlier journal byte for byte, and redone every later one") {
  for (const unsigned seed : {1U, 2U, 3U, 4U}) {
    CAPTURE(seed);
    const TempFolder folder;
    const auto path = folder / "a.jigtime";
    Chance chance{seed};
    std::vector<std::string> dumps;
    {
      Store store = must(Store::create(path, sample_build()));
      dumps.push_back(canonical_dump(path));
      fill(store);
      dumps.push_back(canonical_dump(path));
      for (int round = 0; round < 40; ++round) {
        static_cast<void>(store.edit("by chance", [&](Edit& edit) { return chance.change(edit, round); }));
        std::string dump = canonical_dump(path);
        if (dump != dumps.back()) dumps.push_back(std::move(dump));
      }
    }
    REQUIRE(dumps.size() > 20);
    Store store = must(Store::open(path));
    for (std::size_t i = dumps.size() - 1; i-- > 0;) {
      must(store.undo());
      REQUIRE(canonical_dump(path) == dumps[i]);
    }
    CHECK(refusal(store.undo()) == "not found: There is nothing to undo.");
    for (std::size_t i = 1; i < dumps.size(); ++i) {
      must(store.redo());
      REQUIRE(canonical_dump(path) == dumps[i]);
    }
    CHECK(must(store.integrity()).empty());
  }
}

TEST_CASE_FIXTURE(Fixture, "an undo is a line of the history, and a new edit after it closes the redo") {
  fill(store);
  store.sign_as("ana");
  note("one");
  note("two");
  const Change undone = must(store.undo());
  CHECK(undone.label == "set a mark");
  CHECK(undone.who == "ana");
  note("three");
  CHECK(holds(refusal(store.redo()), "not found: There is nothing to do again"));
  const auto history = must(store.history());
  REQUIRE(history.size() == 5);
  CHECK(history[0].deed == Change::Deed::edit);
  CHECK(history[1].deed == Change::Deed::undo);
  CHECK(history[1].target == history[2].id);
  CHECK(history[2].undone);
  CHECK(!history[3].undone);
  CHECK(history[3].what == "1 mark added");
  CHECK(history[4].who.empty());
  CHECK(must(store.history(2)).size() == 2);
}

TEST_CASE_FIXTURE(Fixture, "undo goes on across a restart, and the search follows it") {
  fill(store);
  note("quirk");
  store = must(Store::open(path));
  CHECK(must(store.find("quirk")).size() == 1);
  must(store.undo());
  CHECK(must(store.find("quirk")).empty());
  must(store.redo());
  CHECK(must(store.find("quirk")).size() == 1);
}

TEST_CASE_FIXTURE(Fixture, "a seal cannot be undone: it says to amend") {
  fill(store);
  seal();
  const std::string before = canonical_dump(path);
  CHECK(holds(refusal(store.undo()), "conflict: The last thing done was \"seal a session\""));
  CHECK(holds(refusal(store.undo()), "amend"));
  CHECK(canonical_dump(path) == before);
}

TEST_CASE_FIXTURE(Fixture, "what was done after a seal can be undone, as far as the seal") {
  fill(store);
  seal();
  must(store.edit("add a person", [](Edit& edit) -> Done {
    must(edit.add(Person{{}, "Cy", Role::helper}));
    return {};
  }));
  must(store.edit("find footage again", [](Edit& edit) { return edit.relink(PartId{1}, "/new/place.mp4"); }));
  must(store.undo());
  must(store.undo());
  CHECK(must(store.known()).people.size() == 2);
  CHECK(holds(refusal(store.undo()), "conflict: "));
}

TEST_CASE_FIXTURE(Fixture, "the sealing of one session does not stop undo in another, and passes over what it seals") {
  fill(store);
  const SessionId other = must(edited(store, [](Edit& edit) {
    return edit.add(Session{{}, std::chrono::year{2026} / 4 / 1, std::nullopt, std::nullopt, ""});
  }));
  const auto mark = [&](SessionId session, const std::string& note) {
    must(store.edit("mark " + note, [&](Edit& edit) -> Done {
      must(edit.add(Mark{{}, session, at(1s), note}));
      return {};
    }));
  };
  mark(other, "b1");
  mark({1}, "a1");
  mark(other, "b2");
  seal();
  const std::string sealed = must(store.entries()).at(0).text;
  const auto history = must(store.history());
  REQUIRE(history.size() == 6);
  std::vector<std::string> open;
  for (const Change& change : history) {
    if (!change.stays) open.push_back(change.label);
  }
  CHECK(open == std::vector<std::string>{"mark b2", "mark b1", "test"});
  const Change first = must(store.undo());
  CHECK(first.label == "mark b2");
  CHECK(first.passed_over == 1);
  CHECK(first.what == "1 mark added");
  const Change second = must(store.undo());
  CHECK(second.label == "mark b1");
  CHECK(second.passed_over == 2);
  CHECK(must(store.record(other)).marks.empty());
  CHECK(record_of(store).marks.size() == 2);
  must(store.redo());
  must(store.redo());
  CHECK(must(store.record(other)).marks.size() == 2);
  CHECK(holds(refusal(store.redo()), "not found: "));
  CHECK(must(store.undo()).label == "mark b2");
  CHECK(must(store.entries()).at(0).text == sealed);
  CHECK(must(store.integrity()).empty());
}

TEST_CASE_FIXTURE(Fixture, "what a sealed session needs stays with it, and older edits can be undone all the same") {
  const SessionId other = must(edited(store, [](Edit& edit) {
    return edit.add(Session{{}, std::chrono::year{2026} / 4 / 1, std::nullopt, std::nullopt, ""});
  }));
  const TaskId task = must(edited(store, [](Edit& edit) { return edit.add(Task{{}, "Older", {}, "", ""}); }));
  const PersonId cy = must(edited(store, [](Edit& edit) { return edit.add(Person{{}, "Cy", Role::helper}); }));
  const SessionId day = must(edited(store, [](Edit& edit) {
    return edit.add(Session{{}, std::chrono::year{2026} / 4 / 2, std::nullopt, std::nullopt, ""});
  }));
  const TaskId used = must(edited(store, [](Edit& edit) { return edit.add(Task{{}, "Used", {}, "", ""}); }));
  must(edited(store, [&](Edit& edit) {
    return edit.add(Span{{}, day, SpanKind::work, at(0s), at(9s), used, {cy}, {}, "", false});
  }));
  must(store.edit("seal", [&](Edit& edit) -> Done {
    must(edit.add(next_entry({}, sample_build(), must(store.known()), must(store.record(day)), {}, store::sha256_hex)));
    return {};
  }));
  CHECK(must(store.undo()).passed_over == 5);
  CHECK(must(store.known()).task(task) == nullptr);
  CHECK(must(store.known()).person(cy) != nullptr);
  must(store.undo());
  CHECK(must(store.sessions()).size() == 1);
  CHECK(must(store.sessions()).at(0).id == day);
  CHECK(other != day);
  CHECK(holds(refusal(store.undo()), "conflict: The last thing done was \"seal\""));
}

TEST_CASE("random edits of one day, undone after another day was sealed in between, give that day back byte for byte") {
  for (const unsigned seed : {5U, 6U, 7U}) {
    CAPTURE(seed);
    const TempFolder folder;
    const auto path = folder / "a.jigtime";
    Store store = must(Store::create(path, sample_build()));
    fill(store);
    const SessionId day = must(edited(store, [](Edit& edit) {
      return edit.add(Session{{}, std::chrono::year{2026} / 4 / 2, std::nullopt, std::nullopt, ""});
    }));
    must(store.edit("work of the other day", [&](Edit& edit) -> Done {
      must(edit.add(Span{{}, day, SpanKind::work, at(0s), at(9s), TaskId{1}, {{1}}, {}, "sealed", false}));
      return {};
    }));
    Chance chance{seed, Chance::Reach::one_session};
    std::vector<SessionRecord> days{record_of(store)};
    const auto edits = [&](int from, int to) {
      for (int round = from; round < to; ++round) {
        static_cast<void>(store.edit("by chance", [&](Edit& edit) { return chance.change(edit, round); }));
        if (SessionRecord now = record_of(store); now != days.back()) days.push_back(std::move(now));
      }
    };
    edits(0, 25);
    must(store.edit("seal", [&](Edit& edit) -> Done {
      must(edit.add(next_entry(must(store.entries()), sample_build(), must(store.known()), must(store.record(day)), {},
                               store::sha256_hex)));
      return {};
    }));
    edits(25, 40);
    REQUIRE(days.size() > 8);
    const SessionRecord sealed = must(store.record(day));
    // Edits of the register come back too and change no day; every state of the day is met, last one first.
    std::size_t met = days.size() - 1;
    std::set<std::int64_t> staying;
    for (const Change& change : must(store.history(9999))) {
      if (change.stays) staying.insert(change.id);
    }
    CHECK(staying.size() >= 2);
    for (auto undone = store.undo(); undone && met > 0; undone = store.undo()) {
      CHECK(!staying.contains(undone->target.value_or(0)));
      const SessionRecord now = record_of(store);
      if (now != days[met]) REQUIRE(now == days[--met]);
    }
    CHECK(met == 0);
    CHECK(must(store.record(day)) == sealed);
    CHECK(must(store.integrity()).empty());
  }
}

TEST_CASE_FIXTURE(Fixture, "an undo that another program made impossible changes nothing") {
  fill(store);
  note("one");
  Raw{path}.must("UPDATE mark SET note = 'other' WHERE note = 'one'");
  const std::string before = canonical_dump(path);
  CHECK(holds(refusal(store.undo()), "conflict: \"set a mark\" no longer fits"));
  CHECK(canonical_dump(path) == before);
  CHECK(must(store.integrity()).empty());
}

TEST_CASE_FIXTURE(Fixture, "a history whose bytes were damaged is told and changes nothing") {
  fill(store);
  note("one");
  Raw{path}.must("UPDATE edit SET changes = x'0102' WHERE id = 2");
  CHECK(holds(refusal(store.undo()), "unreadable: "));
  CHECK(record_of(store).marks.size() == 2);
}
