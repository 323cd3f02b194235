#include "app/view/list_shape.h"

#include <algorithm>

namespace jigtime::app {

ListShape list_shape(int count, const ListRoom& room) {
  for (const int columns : {1, 2}) {
    const int rows = (count + columns - 1) / columns;
    const float line = room.height / static_cast<float>(rows) - room.gap;
    if (line >= room.lowest) return {columns, std::min(line, room.highest)};
  }
  return {1, room.highest};
}

}  // namespace jigtime::app
