// Where everything of the day strip lies in the window shown, and what lies under the pointer.
// Must never know: ImGui, colours. Pixels count from the strip's top left corner.
// Begin reading at: lay_out.
#pragma once

#include <optional>
#include <vector>

#include "app/view/rows.h"
#include "app/view/strip.h"

namespace jigtime::app {

struct StripMetrics {
  double gutter = 140;      ///< names of the rows
  double header = 22;       ///< the clock above the rows
  double line = 22;         ///< one line of spans
  double camera_line = 44;  ///< one line of a camera: its sound needs room
  double gap = 3;           ///< between rows
  double edge = 7;          ///< how near the pointer must be to an edge to take hold of it
};

/// A stretch of a row. `x` counts from the end of the gutter and is cut off a little beyond the window.
struct StripBox {
  std::size_t row = 0;
  std::size_t item = 0;
  double x0 = 0;
  double x1 = 0;
  double y0 = 0;
  double y1 = 0;
};

struct RowPlace {
  double y0 = 0;
  double y1 = 0;
};

struct StripLayout {
  std::vector<RowPlace> rows;   ///< one a row of StripRows
  std::vector<StripBox> boxes;  ///< what reaches into the window; what would be drawn over the same pixel is left out
  double height = 0;            ///< of all rows with the header
};

/// Of all rows with the header.
double height_of(const StripRows& rows, const StripMetrics& metrics);
/// Lower lines for the cameras where not all rows fit into `room`, but no lower than those of spans: their sound can be
/// read at less height sooner than people's rows can be done without.
StripMetrics fitted(const StripRows& rows, StripMetrics metrics, double room);

/// O(visible items + log all). `layout` is filled anew; its memory is used again.
void lay_out(const StripRows& rows, const StripWindow& window, const StripMetrics& metrics, StripLayout& layout);

enum class Grip { body, begin, end };
struct Under {
  std::size_t row = 0;
  std::size_t item = 0;
  Grip grip = Grip::body;
};
/// What a click there means; nothing between and beside the items. Edges are those of spans only. The item drawn last
/// is on top.
std::optional<Under> under(const StripRows& rows, const StripLayout& layout, const StripMetrics& metrics, double x,
                           double y);

}  // namespace jigtime::app
