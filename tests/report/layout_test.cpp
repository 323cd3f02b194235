#include "report/layout.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "report/sample_sessions.h"
#include "report/text_width.h"

using namespace jigtime;
using namespace jigtime::report;
using test::at;

namespace {

std::vector<StripLayout> laid_out(const Timeline& timeline) {
  const Day day = day_of(timeline);
  std::vector<StripLayout> layouts;
  for (const Strip& strip : strips_for(shown_ranges(day), strips_wanted(day))) layouts.push_back(layout_of(day, strip));
  return layouts;
}

const Bar* bar_with(const StripLayout& layout, std::string_view tooltip) {
  const auto at = std::find_if(layout.bars.begin(), layout.bars.end(),
                               [&](const Bar& bar) { return bar.tooltip.find(tooltip) != std::string::npos; });
  return at == layout.bars.end() ? nullptr : &*at;
}

bool overlap(const Box& a, const Box& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

void check_inside(const StripLayout& layout) {
  for (const Bar& bar : layout.bars) {
    CHECK(bar.box.x >= -overhang);
    CHECK(bar.box.x + bar.box.width <= chart_width + overhang + 2);
    CHECK(bar.box.y >= layout.axis_y);
    CHECK(bar.box.y + bar.box.height <= layout.height);
    const double room = std::min(bar.box.x + bar.box.width, chart_width) - std::max(bar.box.x, 0.0);
    for (std::size_t i = 0; i < bar.lines.size(); ++i) {
      CHECK(text_width(bar.lines[i], i == 0 ? large_text : small_text) <= room);
    }
  }
  for (const RowLabel& row : layout.rows) CHECK(text_width(row.name, large_text) <= gutter_width);
  for (const Leader& leader : layout.leaders) {
    CHECK(leader.text_x - text_width(leader.text, small_text) / 2 >= 0);
    CHECK(leader.text_x + text_width(leader.text, small_text) / 2 <= chart_width);
  }
}

}  // namespace

TEST_CASE("a bar lies where its times are: half an hour into an hour is the middle of the chart") {
  const auto layouts = laid_out(test::elevator_session());
  REQUIRE(layouts.size() == 3);
  CHECK(layouts[0].strip.range.length() == std::chrono::hours{1});
  const Bar* dimpling = bar_with(layouts[0], "S1 Dimple");
  REQUIRE(dimpling != nullptr);
  CHECK(dimpling->box.x == doctest::Approx(chart_width * 4 / 60));
  CHECK(dimpling->box.width == doctest::Approx(chart_width * 34 / 60));
  CHECK(dimpling->look == Look::work);
  CHECK(dimpling->lines == std::vector<std::string>{"S1 Dimple elevator skin", "34 min"});
}

TEST_CASE("a bar that goes on in the next strip reaches over the edge in both") {
  const auto layouts = laid_out(test::elevator_session());
  const Bar* before = bar_with(layouts[0], "C1 BN_0041.MP4");
  const Bar* after = bar_with(layouts[1], "C1 BN_0041.MP4");
  REQUIRE(before != nullptr);
  REQUIRE(after != nullptr);
  CHECK(before->box.x + before->box.width == doctest::Approx(chart_width + overhang));
  CHECK(after->box.x == doctest::Approx(-overhang));
}

TEST_CASE("each basis has its look, and dropouts have theirs") {
  const auto layouts = laid_out(test::elevator_session());
  CHECK(bar_with(layouts[0], "C1 ")->look == Look::by_sound);
  CHECK(bar_with(layouts[0], "C5 ")->look == Look::by_clock);
  CHECK(bar_with(layouts[1], "C6 ")->look == Look::by_hand);
  CHECK(bar_with(layouts[1], "Dropout inside the clip")->look == Look::dropout);
  CHECK(bar_with(layouts[0], "S2 Break")->look == Look::pause);
}

TEST_CASE("whiskers span one standard error to both sides of each end that is in doubt, and nothing else has them") {
  const auto layouts = laid_out(test::elevator_session());
  REQUIRE(layouts[0].whiskers.size() == 1);
  const double per_second = chart_width / 3600;
  CHECK(layouts[0].whiskers[0].from == doctest::Approx((40 * 60 - 95) * per_second));
  CHECK(layouts[0].whiskers[0].to == doctest::Approx((40 * 60 + 95) * per_second));
  CHECK(layouts[1].whiskers.size() == 1);  // the end of the same clip, 1:02:00
}

TEST_CASE("a doubt across the strip's edge is shown up to the edge") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[4].pieces[0].sigma = std::chrono::hours{9};
  for (const StripLayout& layout : laid_out(timeline)) {
    CHECK_FALSE(layout.whiskers.empty());
    for (const Whisker& whisker : layout.whiskers) {
      CHECK(whisker.from >= -overhang);
      CHECK(whisker.to <= chart_width + overhang);
    }
  }
}

TEST_CASE("no text is wider than its bar, its row or the chart, whatever the names") {
  for (const Timeline& timeline : {test::elevator_session(), test::long_day(), test::hostile_session()}) {
    for (const StripLayout& layout : laid_out(timeline)) check_inside(layout);
  }
}

TEST_CASE("bars never cover each other") {
  // Very narrow bars are widened so that they are seen, and may touch their neighbour.
  const auto as_timed = [](Box box) {
    box.width -= 2;
    return box;
  };
  for (const Timeline& timeline : {test::elevator_session(), test::long_day()}) {
    for (const StripLayout& layout : laid_out(timeline)) {
      for (std::size_t i = 0; i < layout.bars.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
          CHECK_FALSE(overlap(as_timed(layout.bars[i].box), as_timed(layout.bars[j].box)));
        }
      }
    }
  }
}

TEST_CASE("flags stand on their moment and next to each other, in levels where they are close") {
  const auto layouts = laid_out(test::elevator_session());
  REQUIRE(layouts[1].flags.size() == 2);
  CHECK(layouts[1].flags[0].text == "M2");
  CHECK(layouts[1].flags[0].pole_x == doctest::Approx(chart_width * 125 / 3600));
  CHECK_FALSE(overlap(layouts[1].flags[0].box, layouts[1].flags[1].box));
  CHECK(layouts[1].flags[0].box.y > layouts[1].flags[1].box.y);
}

TEST_CASE("a hundred marks at one moment leave poles without flags, not a pile") {
  Timeline timeline = test::elevator_session();
  timeline.record.marks.assign(100, {{1}, {1}, at(0, 30), "again"});
  const auto layouts = laid_out(timeline);
  const auto& flags = layouts[0].flags;
  CHECK(flags.size() == 100);
  CHECK(std::count_if(flags.begin(), flags.end(), [](const Flag& flag) { return flag.box.width > 0; }) == 3);
  check_inside(layouts[0]);
}

TEST_CASE("clips piled up at one moment end in a last row that says how many are in the tables only") {
  Timeline timeline = test::long_day();
  for (journal::Placement& placement : timeline.record.placements) placement.pieces[0].session_start = at(0, 0);
  const auto layouts = laid_out(timeline);
  CHECK(layouts[0].rows[0].about == "+88: see tables");
  CHECK(layouts[0].height < 2000);
}

TEST_CASE("a row of people who do nothing in a strip is left out of it, a camera's lane is kept") {
  const auto layouts = laid_out(test::elevator_session());
  CHECK(layouts[0].rows.size() == 6);
  REQUIRE(layouts[2].rows.size() == 4);
  CHECK(layouts[2].rows[2].name.find("phone") == 0);
  CHECK(layouts[2].rows[3].name == "Ilda Serrano");
}

TEST_CASE("a camera without a placed clip says so in its lane") {
  Timeline timeline = test::elevator_session();
  timeline.record.placements[4].basis = journal::Basis::none;
  timeline.record.placements[5].basis = journal::Basis::none;
  CHECK(laid_out(timeline)[0].rows[2].about == "no placed clip");
}

TEST_CASE("a stretch of a clip that may be off by more than the rest says so on its own bar") {
  Timeline timeline = test::elevator_session();
  auto& pieces = timeline.record.placements[0].pieces;
  REQUIRE(pieces.size() == 1);
  const Piece whole = pieces.front();
  const ClipTime border = whole.clip_from + (whole.clip_to - whole.clip_from) / 4;
  Piece vague = whole, rest = whole;
  vague.clip_to = rest.clip_from = border;
  vague.sigma = std::chrono::seconds{3};
  rest.session_start = whole.to_session(border);
  pieces = {vague, rest};
  const auto layouts = laid_out(timeline);
  const Bar* const doubtful = bar_with(layouts[0], "? C1");
  REQUIRE(doubtful != nullptr);
  CHECK(doubtful->tooltip.find("± 3.0 s") != std::string::npos);
  const auto sure = std::find_if(layouts[0].bars.begin(), layouts[0].bars.end(),
                                 [](const Bar& bar) { return bar.tooltip.starts_with("C1 "); });
  REQUIRE(sure != layouts[0].bars.end());
  CHECK(sure->box.x > doubtful->box.x);
  CHECK(sure->tooltip.find("± 3.0 s") == std::string::npos);
}
