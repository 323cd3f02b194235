// What hangs together, where two at a time are joined.
#pragma once

#include <numeric>
#include <vector>

#include "sync/at.h"

namespace jigtime::sync {

/// Numbers from 0 on, each a group of its own until it is joined with another (disjoint sets, paths halved).
class Groups {
 public:
  explicit Groups(std::size_t count) : roots_(count) { std::iota(roots_.begin(), roots_.end(), 0); }
  /// A number of the group, the same for all in it until it is joined.
  int of(int i) {
    while (roots_[at(i)] != i) i = roots_[at(i)] = roots_[at(roots_[at(i)])];
    return i;
  }
  /// False where they were together.
  bool join(int a, int b) {
    a = of(a);
    b = of(b);
    roots_[at(a)] = b;
    return a != b;
  }

 private:
  std::vector<int> roots_;
};

}  // namespace jigtime::sync
