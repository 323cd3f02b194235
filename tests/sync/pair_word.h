// What two clips say of each other, made up for tests of what follows from it.
#pragma once

#include "sync/pair.h"

namespace jigtime::test {

/// A pair's word: both clips heard the same from `from` to `to` of a's seconds, b's clip time being `lag` more.
inline sync::PairMatch heard(int a, int b, double from, double to, double lag, double proof = 30) {
  sync::Segment segment;
  segment.from = from;
  segment.to = to;
  segment.proof = proof;
  for (double t = from; t <= to; t += (to - from) / 20) segment.observations.push_back({t, lag, 1});
  segment.fit = sync::fit_line(segment.observations, 0, sync::most_slope);
  sync::PairMatch match;
  match.a = a;
  match.b = b;
  match.segments.push_back(segment);
  return match;
}

}  // namespace jigtime::test
