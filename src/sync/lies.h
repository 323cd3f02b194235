// Where clips lie by a solution, and what it knows of each.
// Must never know: samples, clocks.
#pragma once

#include <vector>

#include "sync/unheard.h"

namespace jigtime::sync {

/// Session seconds of a clip.
struct Lie {
  bool heard = false;
  int component = 0;
  double begin = 0;
  double end = 0;
  double sigma = 0;
};
/// By clip.
std::vector<Lie> lies_of(std::size_t clips, const Trial& now);

}  // namespace jigtime::sync
