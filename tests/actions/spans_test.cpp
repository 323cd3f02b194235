#include "actions/spans.h"

#include <doctest/doctest.h>

#include "actions/history.h"
#include "actions/items.h"
#include "actions/sealing.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

SessionTime t(Length length) { return SessionTime{length}; }

}  // namespace

TEST_CASE("one undo takes a split, a join or a copy back as a whole") {
  TaggedDesk desk;
  const journal::SpanId span = desk.tag(10min, 40min, "Rivet", {"Mara"}, {"MS20470AD4-5=12"});
  const journal::SessionRecord before = desk.record();
  const auto second = split_span(desk.store, desk.session, span, t(20min));
  REQUIRE(second);
  CHECK(desk.record().spans.size() == 2);
  REQUIRE(undo(desk.store));
  CHECK(desk.record() == before);
  REQUIRE(redo(desk.store));
  REQUIRE(join_spans(desk.store, desk.session, span, *second));
  CHECK(desk.record() == before);
}

TEST_CASE("a copy lasts to the next span, or as long as the span did, and sets nothing") {
  TaggedDesk desk;
  const journal::SpanId span = desk.tag(10min, 40min, "Rivet", {"Mara", "Bo"}, {"MS20470AD4-5=12"});
  const auto last = copy_span(desk.store, desk.session, span, std::nullopt, std::nullopt);
  REQUIRE(last);
  CHECK(desk.record().spans[1].end == t(70min));
  desk.tag(100min, 110min, "Deburr", {"Bo"});
  const auto next = copy_span(desk.store, desk.session, span, t(90min), std::nullopt);
  REQUIRE(next);
  const journal::Span copy = desk.record().spans[2];
  CHECK(copy.begin == t(90min));
  CHECK(copy.end == t(100min));
  CHECK(copy.people.size() == 2);
  CHECK(copy.fasteners.empty());
}

TEST_CASE("a change replaces what is given and leaves the rest") {
  TaggedDesk desk;
  const journal::SpanId span = desk.tag(10min, 40min, "Rivet", {"Mara"}, {"MS20470AD4-5=12"});
  SpanChange change;
  change.task = "Deburr";
  change.people = std::vector<std::string>{"Bo", "Mara"};
  REQUIRE(change_span(desk.store, desk.session, span, change));
  const journal::Span changed = desk.record().spans[0];
  CHECK(desk.known().task(*changed.task)->title == "Deburr");
  CHECK(changed.people.size() == 2);
  CHECK(changed.fasteners.size() == 1);
  change = {};
  change.fasteners = std::vector<std::string>{};
  change.note = "All out again.";
  REQUIRE(change_span(desk.store, desk.session, span, change));
  CHECK(desk.record().spans[0].fasteners.empty());
  CHECK(desk.record().spans[0].note == "All out again.");
  change.fasteners = std::vector<std::string>{"MS20470AD4-5=1-2"};
  CHECK(holds(said(change_span(desk.store, desk.session, span, change)), "invalid: "));
}

TEST_CASE("an item that a joined span closed is closed by the span that stays; one of a deleted span waits again") {
  TaggedDesk desk;
  const journal::SpanId first = desk.tag(10min, 20min, "Rivet", {"Mara"});
  const journal::SpanId second = desk.tag(20min, 30min, "Rivet", {"Mara"});
  ItemWords words;
  words.words = "Rib 4 again";
  words.kind = journal::ItemKind::redo;
  words.session = desk.session;
  const auto item = open_item(desk.store, words);
  REQUIRE(item);
  REQUIRE(close_item(desk.store, *item, desk.session, second, "done"));
  REQUIRE(join_spans(desk.store, desk.session, first, second));
  CHECK(desk.record().items[0].closing->span == first);
  REQUIRE(delete_span(desk.store, desk.session, first));
  CHECK(!desk.record().items[0].closing);
}

TEST_CASE("a span that is not in the session, or is sealed, is left alone and told") {
  TaggedDesk desk;
  const journal::SpanId span = desk.tag(10min, 20min, "Rivet", {"Mara"});
  const journal::SessionId other = desk.add_session(2026, 3, 15);
  CHECK(said(split_span(desk.store, other, span, t(15min))) ==
        "not found: There is no span 1 in the session of 2026-03-15. \"jigtime show\" prints the spans with their "
        "numbers.");
  CHECK(holds(said(trim_span(desk.store, desk.session, {99}, t(1min), std::nullopt)), "not found: "));
  CHECK(holds(said(delete_span(desk.store, desk.session, {99})), "not found: "));
  CHECK(holds(said(join_spans(desk.store, desk.session, span, {99})), "not found: "));
  CHECK(holds(said(delete_mark(desk.store, desk.session, {99})), "not found: "));
  REQUIRE(seal_session(desk.store, desk.session, {}));
  CHECK(holds(said(split_span(desk.store, desk.session, span, t(15min))), "conflict: "));
  CHECK(holds(said(copy_span(desk.store, desk.session, span, std::nullopt, std::nullopt)), "conflict: "));
  CHECK(holds(said(delete_span(desk.store, desk.session, span)), "conflict: "));
}

TEST_CASE("several spans are split and deleted as one step of undo") {
  TaggedDesk desk;
  const journal::SpanId one = desk.tag(10min, 40min, "Rivet", {"Mara"});
  const journal::SpanId other = desk.tag(15min, 30min, "Deburr", {"Bo"});
  const journal::SessionRecord before = desk.record();
  REQUIRE(split_spans(desk.store, desk.session, {one, other}, t(20min)));
  CHECK(desk.record().spans.size() == 4);
  REQUIRE(undo(desk.store));
  CHECK(desk.record() == before);
  REQUIRE(delete_spans(desk.store, desk.session, {one, other}));
  CHECK(desk.record().spans.empty());
  REQUIRE(undo(desk.store));
  CHECK(desk.record() == before);
}

TEST_CASE("where one of several spans cannot be split or is not there, none is changed") {
  TaggedDesk desk;
  const journal::SpanId one = desk.tag(10min, 40min, "Rivet", {"Mara"});
  const journal::SpanId other = desk.tag(50min, 60min, "Deburr", {"Bo"});
  const journal::SessionRecord before = desk.record();
  CHECK_FALSE(split_spans(desk.store, desk.session, {one, other}, t(20min)));
  CHECK_FALSE(delete_spans(desk.store, desk.session, {one, journal::SpanId{999}}));
  CHECK(desk.record() == before);
}
