// Where all pieces lie, from what all pairs say: robust least squares.
// Must never know: samples, clocks.
#pragma once

#include <optional>
#include <vector>

#include "sync/graph.h"

namespace jigtime::sync {

struct Solved {
  struct Place {
    double start = 0;  ///< session seconds of the node's `from`, each component on a zero of its own
    double rate = 0;   ///< session seconds gained for each clip second
    double sigma = 0;  ///< standard error of the node's times, root of the mean square over it
  };
  std::vector<Place> places;   ///< by node
  std::vector<double> rates;   ///< by camera
  std::vector<int> component;  ///< by node
  std::vector<int> held;       ///< by component, the node on which it hangs
  std::vector<bool> dropped;   ///< edges that contradict stronger ones
};

struct SolveRules {
  int cameras = 1;
  int reference = 0;  ///< camera whose rate is zero
};

Solved solve(const Graph& graph, const SolveRules& rules);

}  // namespace jigtime::sync
