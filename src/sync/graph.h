// Pieces of clips as nodes, what the sound says of two of them as edges.
// Must never know: samples, clocks.
#pragma once

#include <vector>

#include "sync/common_slope.h"
#include "sync/steps.h"

namespace jigtime::sync {

/// A stretch of a clip in which nothing was lost.
struct Node {
  int clip = 0;
  int camera = 0;
  double from = 0;  ///< clip seconds
  double to = 0;
};

struct Edge {
  int a = 0;  ///< nodes
  int b = 0;
  int match = -1;     ///< index of the pair; -1 for a tie
  double spread = 0;  ///< of the observations around their line, seconds
  double slope = 0;   ///< of that line
  double slope_sigma = 0;
  double doubt = 0;  ///< of the segment, seconds
  double strength = 0;
  std::vector<Observation> observations;  ///< at clip a's seconds
};

/// Two nodes that follow each other in a clip.
struct Link {
  int before = 0;   ///< node; the other is the next one
  double lost = 0;  ///< seconds between them; 0 where a long node was only cut so that its rate may change
  double sigma = 0;
};

struct Graph {
  std::vector<Node> nodes;
  std::vector<Edge> edges;
  std::vector<Link> links;
};

/// A camera that warms changes its rate: longer nodes are cut into equal ones.
inline constexpr double longest_node = 720;

/// Cuts the clips, and every segment's observations by the nodes they fall on. `slopes`, if there are any, are those of
/// the same matches from one call to the next.
Graph build_graph(const std::vector<Node>& clips, const std::vector<std::vector<Split>>& splits,
                  const std::vector<PairMatch>& matches, KnownSlopes* slopes = nullptr);

/// For each node the number of its component (0 is the one with the longest footage); nodes without an edge have one
/// of their own.
std::vector<int> components_of(const Graph& graph);

}  // namespace jigtime::sync
