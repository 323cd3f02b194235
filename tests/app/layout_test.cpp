#include "app/view/layout.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length t) { return SessionTime{t}; }

StripItem item(ItemKind kind, std::int64_t id, Length begin, Length end, int sub_row = 0) {
  StripItem one;
  one.kind = kind;
  one.id = id;
  one.range = *SessionRange::make(at(begin), at(end));
  one.sub_row = sub_row;
  return one;
}

StripRow row(RowKind kind, std::vector<StripItem> items, int sub_rows = 1) {
  StripRow one;
  one.kind = kind;
  one.sub_rows = sub_rows;
  for (const StripItem& i : items) one.longest = std::max(one.longest, i.range.length());
  one.items = std::move(items);
  return one;
}

StripRows two_rows() {
  StripRows rows;
  rows.rows.push_back(row(RowKind::camera, {item(ItemKind::clip, 1, 0s, 600s), item(ItemKind::dropout, 1, 600s, 700s),
                                            item(ItemKind::clip, 2, 700s, 1000s)}));
  rows.rows.push_back(
      row(RowKind::person, {item(ItemKind::span, 7, 100s, 300s), item(ItemKind::span, 8, 200s, 220s, 1)}, 2));
  rows.whole = *SessionRange::make(at(0s), at(1000s));
  return rows;
}

/// One pixel a second from zero on.
StripWindow window_of(double width) { return {at(0s), from_seconds(width), width}; }

}  // namespace

TEST_CASE("every item in sight has a box where its time is, in its row") {
  StripLayout layout;
  lay_out(two_rows(), window_of(1000), {}, layout);
  REQUIRE(layout.boxes.size() == 5);
  CHECK(layout.boxes[0].x0 == doctest::Approx(0));
  CHECK(layout.boxes[0].x1 == doctest::Approx(600));
  CHECK(layout.boxes[4].y0 > layout.boxes[3].y0);
  CHECK(layout.rows[1].y0 > layout.rows[0].y1);
  CHECK(layout.height >= layout.rows[1].y1);
}

TEST_CASE("a long item that began before the window still shows, and what is out of sight does not") {
  StripLayout layout;
  lay_out(two_rows(), {at(400s), 100s, 1000}, {}, layout);
  REQUIRE(layout.boxes.size() == 1);
  CHECK(layout.boxes[0].item == 0);
}

TEST_CASE("thousands of items on few pixels make no more boxes than there are pixels") {
  std::vector<StripItem> many;
  for (int i = 0; i < 20000; ++i) many.push_back(item(ItemKind::span, i, i * 1s, i * 1s + 500ms));
  StripRows rows;
  rows.rows.push_back(row(RowKind::person, many));
  StripLayout layout;
  lay_out(rows, {at(0s), 20000s, 800}, {}, layout);
  CHECK(layout.boxes.size() <= 801);
  CHECK(layout.boxes.size() >= 400);
}

TEST_CASE("the pointer meets the body, the begin or the end of a span") {
  const StripRows rows = two_rows();
  const StripMetrics metrics;
  StripLayout layout;
  lay_out(rows, window_of(1000), metrics, layout);
  const double y = (layout.rows[1].y0 + layout.rows[1].y0 + metrics.line) / 2;
  REQUIRE(under(rows, layout, metrics, 150, y));
  CHECK(under(rows, layout, metrics, 150, y)->grip == Grip::body);
  CHECK(under(rows, layout, metrics, 102, y)->grip == Grip::begin);
  CHECK(under(rows, layout, metrics, 298, y)->grip == Grip::end);
}

TEST_CASE("a clip has no ends to take hold of") {
  const StripRows rows = two_rows();
  StripLayout layout;
  lay_out(rows, window_of(1000), {}, layout);
  CHECK(under(rows, layout, {}, 599, layout.rows[0].y0 + 5)->grip == Grip::body);
}

TEST_CASE("beside and between the items there is nothing") {
  const StripRows rows = two_rows();
  StripLayout layout;
  lay_out(rows, window_of(1000), {}, layout);
  CHECK_FALSE(under(rows, layout, {}, 500, layout.rows[1].y0 + 5));
  CHECK_FALSE(under(rows, layout, {}, 150, layout.height + 50));
  CHECK_FALSE(under(rows, layout, {}, 150, 2));
}

TEST_CASE("a short span can be taken by its body, its ends do not eat it up") {
  const StripRows rows = two_rows();
  const StripMetrics metrics;
  StripLayout layout;
  lay_out(rows, window_of(1000), metrics, layout);
  const double y = layout.rows[1].y0 + metrics.line * 1.5;
  CHECK(under(rows, layout, metrics, 210, y)->grip == Grip::body);
  CHECK(under(rows, layout, metrics, 210, y)->item == 1);
}

TEST_CASE("an empty day has a layout too") {
  StripLayout layout;
  lay_out({}, window_of(1000), {}, layout);
  CHECK(layout.boxes.empty());
  CHECK_FALSE(under({}, layout, {}, 5, 5));
}

TEST_CASE("where not all rows fit the cameras' lines become lower, but never lower than those of spans") {
  const StripRows rows = two_rows();
  const StripMetrics usual;
  const double all = height_of(rows, usual);
  CHECK(fitted(rows, usual, all).camera_line == doctest::Approx(usual.camera_line));
  const StripMetrics lower = fitted(rows, usual, all - 10);
  CHECK(lower.camera_line == doctest::Approx(usual.camera_line - 10));
  CHECK(height_of(rows, lower) == doctest::Approx(all - 10));
  CHECK(fitted(rows, usual, 0).camera_line == doctest::Approx(usual.line));
  CHECK(fitted({}, usual, 0).camera_line == doctest::Approx(usual.camera_line));
  StripLayout layout;
  lay_out(rows, window_of(1000), lower, layout);
  CHECK(layout.height == doctest::Approx(height_of(rows, lower)));
}
