#include "film/layout.h"

namespace jigtime::film {
namespace {

int even(int side) { return side / 2 * 2; }

int columns_for(int cameras) {
  if (cameras == 1) return 1;
  return cameras <= 4 ? 2 : 3;
}

}  // namespace

Layout lay_out(int cameras, int width) {
  const int columns = columns_for(cameras);
  const int rows = (cameras + columns - 1) / columns;
  const int panel_width = even(width / columns);
  const int panel_height = even(panel_width * 9 / 16);
  Layout layout;
  layout.width = panel_width * columns;
  layout.height = panel_height * rows;
  for (int i = 0; i < cameras; ++i) {
    layout.panels.push_back({i % columns * panel_width, i / columns * panel_height, panel_width, panel_height});
  }
  if (cameras < rows * columns) {
    const int last = rows * columns - 1;
    layout.words = {last % columns * panel_width, last / columns * panel_height, panel_width, panel_height};
  } else {
    const int bar = even(layout.width / 10);
    layout.words = {0, layout.height, layout.width, bar};
    layout.height += bar;
  }
  return layout;
}

}  // namespace jigtime::film
