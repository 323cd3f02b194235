// How a short list is laid out so that all of it is seen at once, where that can be.
// Must never know: ImGui.
#pragma once

namespace jigtime::app {

struct ListShape {
  int columns = 1;
  float line = 0;  ///< height of a line, without the gap below it
};

struct ListRoom {
  float height = 0;
  float gap = 0;      ///< below each line
  float lowest = 0;   ///< a line that can still be read
  float highest = 0;  ///< a line that is well met with the pointer
};

/// Lower lines before two columns; where not even two columns of the lowest lines fit one must scroll, and then one
/// column with whole words is worth more. Precondition: count > 0.
ListShape list_shape(int count, const ListRoom& room);

}  // namespace jigtime::app
