// What two clips said of each other, for tests.
#pragma once

#include <utility>
#include <vector>

#include "sync/pair.h"

namespace jigtime::test {

inline sync::PairMatch match(int a, int b, std::vector<sync::Segment> segments) {
  sync::PairMatch match;
  match.a = a;
  match.b = b;
  match.segments = std::move(segments);
  return match;
}

}  // namespace jigtime::test
