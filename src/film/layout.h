// Where the cameras' pictures and the words stand on the film's page.
#pragma once

#include <vector>

namespace jigtime::film {

struct Box {
  int left = 0;
  int top = 0;
  int width = 0;
  int height = 0;
  friend bool operator==(const Box&, const Box&) = default;
};

struct Layout {
  int width = 0;  ///< even, as is the height
  int height = 0;
  std::vector<Box> panels;  ///< one a camera, row by row, all of one size, 16 : 9
  Box words;                ///< a panel that no camera needs, or a bar below them
};

/// Side by side: one camera alone, two in a row, up to four in two rows, up to nine in three columns.
/// Precondition: cameras >= 1, 320 <= width <= 7680.
Layout lay_out(int cameras, int width);

}  // namespace jigtime::film
