// Where everything of one strip lies: numbers only, ready to be drawn.
// Must never know: SVG.
// Begin reading at: layout_of.
#pragma once

#include <string>
#include <vector>

#include "report/day.h"
#include "report/strips.h"

namespace jigtime::report {

/// Units of the drawing: its width on paper is that of the page.
inline constexpr double page_width = 760;
inline constexpr double gutter_width = 128;  ///< names of the rows
inline constexpr double chart_width = page_width - gutter_width - 2;
/// Bars that go on beyond the strip are drawn so far over its edge, where they are cut off without an outline.
inline constexpr double overhang = 4;
inline constexpr double large_text = 11.5;
inline constexpr double small_text = 10;

/// x counts from the chart's left edge, y from the strip's top.
struct Box {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;
};

enum class Look { by_sound, by_hand, by_clock, dropout, work, pause };

struct Bar {
  Box box;
  Look look = Look::by_sound;
  std::vector<std::string> lines;  ///< what fits inside, at most two; none for a narrow bar
  std::string tooltip;
};

/// A placement's standard error about one end of a bar.
struct Whisker {
  double from = 0;
  double to = 0;
  double y = 0;
};

/// Labels of clips and spans find room before those of dropouts.
enum class Rank { first, second };

/// A label below its row, for a bar too narrow to hold it.
struct Leader {
  Rank rank = Rank::first;
  double bar_x = 0;
  double bar_y = 0;
  double text_x = 0;  ///< middle
  double text_y = 0;  ///< baseline
  std::string text;
};

struct Flag {
  double pole_x = 0;
  Box box;  ///< no width: there was no room, only the pole is drawn
  std::string text;
  std::string tooltip;
};

struct Tick {
  double x = 0;
  std::string label;
};

struct RowLabel {
  double y = 0;       ///< top of the row
  double height = 0;  ///< of the row
  std::string name;   ///< fits the gutter
  std::string about;
  std::string tooltip;  ///< the whole name
};

struct StripLayout {
  Strip strip;
  double height = 0;
  double axis_y = 0;
  std::vector<Tick> ticks;
  std::vector<Flag> flags;
  std::vector<RowLabel> rows;
  std::vector<Bar> bars;
  std::vector<Whisker> whiskers;
  std::vector<Leader> leaders;
};

StripLayout layout_of(const Day& day, const Strip& strip);

}  // namespace jigtime::report
