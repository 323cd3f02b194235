#include <doctest/doctest.h>

#include "journal/seal.h"
#include "store/filled.h"
#include "store/refusal.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

Entry entry_for(const Store& store, SessionId session) {
  return next_entry(must(store.entries()), must(store.build()), must(store.known()), must(store.record(session)),
                    WallTime{1'773'600'000s + 1ns}, store::sha256_hex);
}

Session later_session() {
  Session session;
  session.date = std::chrono::year{2026} / 3 / 15;
  return session;
}

}  // namespace

TEST_CASE("a span is changed whole") {
  Store store = filled_store();
  Span span = sample_record().spans[0];
  span.begin = at(1min);
  span.task = TaskId{2};
  span.people = {{2}};
  span.fasteners = {{"MS20470AD4-5", Method::pulled, 9, 9}};
  span.note = "";
  must(edited(store, [&](Edit& edit) { return edit.update(span); }));
  CHECK(record_of(store).spans[0] == span);
  must(edited(store, [&](Edit& edit) { return edit.remove(span.id); }));
  CHECK(record_of(store).spans.size() == 1);
  CHECK(must(store.integrity()).empty());
}

TEST_CASE("a span that breaks a rule or has no ground is refused whole") {
  Store store = filled_store();
  Span span = sample_record().spans[0];
  span.people.push_back({9});
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.add(span); })), "invalid: The span names a person"));
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.update(span); })), "invalid: "));
  span = sample_record().spans[0];
  span.session = {9};
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.add(span); })), "not found: The session"));
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.update(span); })), "not found: The session"));
  span = sample_record().spans[0];
  span.id = {9};
  CHECK(
      holds(refusal(edited(store, [&](Edit& edit) { return edit.update(span); })), "not found: There is no such span"));
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.remove(SpanId{9}); })), "not found: "));
  CHECK(record_of(store).spans == sample_record().spans);
}

TEST_CASE("a person may be named in a span in the same edit that adds the person") {
  Store store = filled_store();
  must(store.edit("tag", [](Edit& edit) -> Done {
    Span span = sample_record().spans[0];
    must(edit.add(span));
    span.people = {must(edit.add(Person{{}, "Cy", Role::helper}))};
    span.task = must(edit.add(Task{{}, "Prime", std::nullopt, "", ""}));
    must(edit.add(span));
    return {};
  }));
  CHECK(record_of(store).spans.size() == 4);
}

TEST_CASE("marks are moved, reworded and removed") {
  Store store = filled_store();
  Mark mark{{1}, {1}, at(1h), "Last rivet."};
  must(edited(store, [&](Edit& edit) { return edit.update(mark); }));
  CHECK(record_of(store).marks[0] == mark);
  must(edited(store, [&](Edit& edit) { return edit.remove(mark.id); }));
  CHECK(record_of(store).marks.empty());
  CHECK(
      holds(refusal(edited(store, [&](Edit& edit) { return edit.update(mark); })), "not found: There is no such mark"));
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.remove(mark.id); })), "not found: "));
  mark.at = at(-1ns);
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.add(mark); })), "invalid: "));
}

TEST_CASE("proposals are replaced all together, or not at all") {
  Store store = filled_store();
  std::vector<Proposal> proposals = {{{}, {1}, ProposalKind::pause, at(1min), at(2min), 0, 500},
                                     {{}, {1}, ProposalKind::signal, at(3min), at(3min), 1, 1000}};
  must(edited(store, [&](Edit& edit) { return edit.set_proposals({1}, proposals); }));
  const auto kept = record_of(store).proposals;
  REQUIRE(kept.size() == 2);
  CHECK(kept[1].kind == ProposalKind::signal);
  CHECK(kept[1].begin == at(3min));
  proposals[1].confidence_permille = 1001;
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.set_proposals({1}, proposals); })), "invalid: "));
  CHECK(record_of(store).proposals == kept);
  must(edited(store, [](Edit& edit) { return edit.set_proposals({1}, {}); }));
  CHECK(record_of(store).proposals.empty());
}

TEST_CASE("a sealed session has its entry and refuses every change but a new path") {
  Store store = filled_store();
  const Entry sealed = entry_for(store, {1});
  const EntryId id = must(edited(store, [&](Edit& edit) { return edit.add(sealed); }));
  const SessionRecord before = record_of(store);
  REQUIRE(before.entry.has_value());
  CHECK(before.entry->id == id);
  CHECK(before.entry->text == sealed.text);
  CHECK(before.entry->sealed_at == sealed.sealed_at);

  using Try = std::function<Done(Edit&)>;
  const auto outcome = [](const auto& result) { return result ? Done{} : Done{result.error()}; };
  const std::vector<Try> tries = {
      [&](Edit& e) { return e.update(before.session); },
      [&](Edit& e) { return outcome(e.add(sample_clip(0, {1}))); },
      [&](Edit& e) { return e.update(before.clips[0]); },
      [&](Edit& e) { return e.remove(before.clips[0].id); },
      [&](Edit& e) {
        return e.add(Unreadable{{1}, {1}, "/a", "b"});
      },
      [&](Edit& e) { return e.remove_unreadable({1}, before.unreadable[0].path); },
      [&](Edit& e) { return e.set_placement(before.placements[0]); },
      [&](Edit& e) { return e.set_clock(before.clocks[0]); },
      [&](Edit& e) { return outcome(e.add(before.spans[0])); },
      [&](Edit& e) { return e.update(before.spans[0]); },
      [&](Edit& e) { return e.remove(before.spans[0].id); },
      [&](Edit& e) { return outcome(e.add(before.marks[0])); },
      [&](Edit& e) { return e.update(before.marks[0]); },
      [&](Edit& e) { return e.remove(before.marks[0].id); },
      [&](Edit& e) { return e.set_proposals({1}, {}); },
      [&](Edit& e) { return outcome(e.add(sealed)); },
  };
  for (std::size_t i = 0; i < tries.size(); ++i) {
    CAPTURE(i);
    CHECK(holds(refusal(edited(store, tries[i])),
                "conflict: The session of 2026-03-14 is sealed as entry 1 and cannot be changed any more."));
  }
  must(edited(store, [](Edit& edit) { return edit.relink(journal::PartId{1}, "/new/a1.mp4"); }));
  SessionRecord after = record_of(store);
  CHECK(after.clips[0].parts[0].path == "/new/a1.mp4");
  after.clips[0].parts[0].path = before.clips[0].parts[0].path;
  CHECK(after == before);
}

TEST_CASE("work cannot be moved into or out of a sealed session") {
  Store store = filled_store();
  const SessionId later = must(edited(store, [](Edit& edit) { return edit.add(later_session()); }));
  const Mark mark{must(edited(store, [&](Edit& e) { return e.add(Mark{{}, later, at(1s), ""}); })), {1}, at(1s), ""};
  must(edited(store, [&](Edit& edit) { return edit.add(entry_for(store, {1})); }));
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.update(mark); })), "conflict: "));
  Mark out = record_of(store).marks[0];
  out.session = later;
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.update(out); })), "conflict: "));
}

TEST_CASE("other sessions stay open when one is sealed") {
  Store store = filled_store();
  const SessionId later = must(edited(store, [](Edit& edit) { return edit.add(later_session()); }));
  must(edited(store, [&](Edit& edit) { return edit.add(entry_for(store, {1})); }));
  Span span = sample_record().spans[0];
  span.session = later;
  CHECK(edited(store, [&](Edit& edit) { return edit.add(span); }).ok());
  CHECK(edited(store, [](Edit& edit) { return edit.update(Person{{1}, "Anna", Role::builder}); }).ok());
}

TEST_CASE("entries are kept in a chain, and one that does not fit is refused") {
  Store store = filled_store();
  const SessionId later = must(edited(store, [](Edit& edit) { return edit.add(later_session()); }));
  must(edited(store, [&](Edit& edit) { return edit.add(entry_for(store, {1})); }));
  const Entry good = entry_for(store, later);
  const auto add = [&](const Entry& entry) { return refusal(edited(store, [&](Edit& e) { return e.add(entry); })); };
  Entry bad = good;
  bad.number = 3;
  CHECK(holds(add(bad), "conflict: The entry does not fit"));
  bad = good;
  bad.previous = std::string{no_digest};
  CHECK(holds(add(bad), "conflict: "));
  bad = good;
  bad.text += "more\n";
  CHECK(holds(add(bad), "conflict: "));
  bad = good;
  bad.sealed_at += 1ns;
  CHECK(holds(add(bad), "conflict: "));
  bad = good;
  bad.session = {9};
  CHECK(holds(add(bad), "not found: "));
  CHECK(add(good) == "done");
  const auto entries = must(store.entries());
  REQUIRE(entries.size() == 2);
  CHECK(!first_fault(entries, store::sha256_hex).has_value());
}

TEST_CASE("everything that lies on the session clock moves together, in that session alone") {
  Store store = filled_store();
  const SessionId later = must(edited(store, [](Edit& edit) { return edit.add(later_session()); }));
  must(edited(store, [&](Edit& edit) { return edit.add(Mark{{}, later, at(1s), "stays"}); }));
  const SessionRecord before = record_of(store);
  must(edited(store, [](Edit& edit) { return edit.move_moments({1}, 90s); }));
  SessionRecord moved = record_of(store);
  for (Span& span : moved.spans) {
    span.begin -= 90s;
    span.end -= 90s;
  }
  for (Mark& mark : moved.marks) mark.at -= 90s;
  for (OpenItem& item : moved.items) {
    if (item.at) *item.at -= 90s;
  }
  for (Inspection& inspection : moved.inspections) *inspection.at -= 90s;
  for (Photo& photo : moved.photos) *photo.at -= 90s;
  for (Still& still : moved.stills) still.at -= 90s;
  for (Proposal& proposal : moved.proposals) {
    proposal.begin -= 90s;
    proposal.end -= 90s;
  }
  CHECK(moved == before);
  CHECK(record_of(store).spans[0].begin == before.spans[0].begin + 90s);
  CHECK(must(store.record(later)).marks.at(0).at == at(1s));
  must(store.undo());
  CHECK(record_of(store) == before);
}

TEST_CASE("nothing moves in a sealed session, or to before zero, and what another day's seal holds stays") {
  Store store = filled_store();
  const SessionRecord before = record_of(store);
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.move_moments({1}, -301s); })), "conflict: "));
  CHECK(record_of(store) == before);
  const SessionId later = must(edited(store, [](Edit& edit) { return edit.add(later_session()); }));
  Span span = sample_record().spans[0];
  span.session = later;
  const SpanId closed_by = must(edited(store, [&](Edit& edit) { return edit.add(span); }));
  OpenItem item = before.items[0];
  item.closing = ItemClosing{later_session().date, closed_by, later, "Done."};
  must(edited(store, [&](Edit& edit) { return edit.update(item); }));
  must(edited(store, [&](Edit& edit) { return edit.add(entry_for(store, later)); }));
  must(edited(store, [](Edit& edit) { return edit.move_moments({1}, 90s); }));
  CHECK(record_of(store).marks[0].at == before.marks[0].at + 90s);
  CHECK(record_of(store).items[0].at == before.items[0].at);
  must(edited(store, [&](Edit& edit) { return edit.add(entry_for(store, {1})); }));
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.move_moments({1}, 90s); })), "conflict: "));
}
