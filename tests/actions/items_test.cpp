#include "actions/items.h"

#include <doctest/doctest.h>

#include "actions/sealing.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

std::chrono::year_month_day march(unsigned day) { return std::chrono::year{2026} / 3 / std::chrono::day{day}; }

ItemWords pin(const TaggedDesk& desk) {
  ItemWords words;
  words.words = "hinge pin";
  words.session = desk.session;
  return words;
}

}  // namespace

TEST_CASE("an item opened at a mark takes its time and the session's day, and ages until it is closed") {
  TaggedDesk desk;
  const auto mark = add_mark(desk.store, desk.session, SessionTime{12min}, "no pin");
  REQUIRE(mark);
  ItemWords words = pin(desk);
  words.mark = *mark;
  const auto item = open_item(desk.store, words);
  REQUIRE(item);
  auto lines = list_items(desk.store, Which::waiting, march(20));
  REQUIRE(lines);
  REQUIRE(lines->size() == 1);
  CHECK(lines->front().item.at == SessionTime{12min});
  CHECK(lines->front().session == "2026-03-14");
  CHECK(lines->front().days == 6);
  REQUIRE(close_item(desk.store, *item, march(18), "came by post"));
  CHECK(list_items(desk.store, Which::waiting, march(20))->empty());
  CHECK(list_items(desk.store, Which::all, march(20))->front().days == 4);
  CHECK(holds(said(close_item(desk.store, *item, march(19), "")), "conflict: The item was closed on 2026-03-18"));
  REQUIRE(reopen_item(desk.store, *item));
  CHECK(list_items(desk.store, Which::waiting, march(20))->size() == 1);
}

TEST_CASE("an item is closed by a span of another session, and found by its words") {
  TaggedDesk desk;
  const auto item = open_item(desk.store, pin(desk));
  REQUIRE(item);
  const journal::SessionId first = desk.session;
  desk.session = desk.add_session(2026, 4, 2);
  const journal::SpanId span = desk.tag(0min, 5min, "Fit hinge", {"Mara"});
  REQUIRE(close_item(desk.store, *item, desk.session, span, "fitted"));
  CHECK(desk.store.record(first)->items.size() == 1);
  CHECK(desk.record().items.size() == 1);
  const auto hits = desk.store.find("fitted");
  REQUIRE(hits);
  REQUIRE(hits->size() == 1);
  CHECK(hits->front().kind == store::Hit::Kind::item);
}

TEST_CASE("an item of a sealed session can still be closed later, but not reworded") {
  TaggedDesk desk;
  const auto item = open_item(desk.store, pin(desk));
  REQUIRE(item);
  REQUIRE(seal_session(desk.store, desk.session, {}));
  CHECK(holds(said(delete_item(desk.store, *item)), "conflict: "));
  CHECK(holds(said(open_item(desk.store, pin(desk))), "conflict: "));
  const journal::SessionId first = desk.session;
  desk.session = desk.add_session(2026, 4, 2);
  const journal::SpanId span = desk.tag(0min, 5min, "Fit hinge", {"Mara"});
  REQUIRE(close_item(desk.store, *item, desk.session, span, "fitted"));
  REQUIRE(seal_session(desk.store, desk.session, {}));
  CHECK(holds(said(reopen_item(desk.store, *item)), "conflict: "));
  CHECK(desk.store.record(first)->items[0].closing->words == "fitted");
}

TEST_CASE("an item that names what is not there is refused with what is missing") {
  TaggedDesk desk;
  ItemWords words = pin(desk);
  words.mark = journal::MarkId{9};
  CHECK(holds(said(open_item(desk.store, words)), "not found: There is no mark 9"));
  words = pin(desk);
  words.task = "Nothing";
  CHECK(holds(said(open_item(desk.store, words)), "not found: There is no task called \"Nothing\""));
  words = {};
  words.words = "pin";
  CHECK(holds(said(open_item(desk.store, words)), "invalid: "));
  CHECK(holds(said(close_item(desk.store, {9}, march(1), "")), "not found: There is no open item 9"));
  const auto item = open_item(desk.store, pin(desk));
  REQUIRE(item);
  CHECK(holds(said(close_item(desk.store, *item, desk.session, {9}, "")), "not found: "));
  CHECK(holds(said(close_item(desk.store, *item, march(1), "")), "invalid: "));
}

TEST_CASE("an inspection of a sealed session is cleared once and then stays") {
  TaggedDesk desk;
  journal::Inspection inspection;
  inspection.date = march(14);
  inspection.person = "R. Vane";
  inspection.looked_at = "Elevator";
  inspection.findings = "one low head";
  inspection.session = desk.session;
  const auto id = add_inspection(desk.store, inspection);
  REQUIRE(id);
  REQUIRE(seal_session(desk.store, desk.session, {}));
  REQUIRE(clear_inspection(desk.store, *id, march(20)));
  CHECK(desk.record().inspections[0].cleared_on == march(20));
  CHECK(holds(said(clear_inspection(desk.store, *id, march(21))), "conflict: "));
  CHECK(holds(said(delete_inspection(desk.store, *id)), "conflict: "));
  CHECK(holds(said(clear_inspection(desk.store, {9}, march(21))), "not found: "));
  CHECK(holds(said(add_inspection(desk.store, inspection)), "conflict: "));
}
