#include "sync/lies.h"

#include <algorithm>

#include "sync/at.h"

namespace jigtime::sync {

std::vector<Lie> lies_of(std::size_t clips, const Trial& now) {
  std::vector<Lie> lies(clips);
  std::vector<bool> heard(now.graph.nodes.size(), false);
  for (std::size_t i = 0; i < now.graph.edges.size(); ++i) {
    if (now.solved.dropped[i]) continue;
    heard[at(now.graph.edges[i].a)] = heard[at(now.graph.edges[i].b)] = true;
  }
  std::vector<bool> begun(clips, false);
  for (std::size_t i = 0; i < now.graph.nodes.size(); ++i) {
    const Node& node = now.graph.nodes[i];
    const Solved::Place& place = now.solved.places[i];
    Lie& lie = lies[at(node.clip)];
    if (!begun[at(node.clip)]) lie.begin = place.start;
    begun[at(node.clip)] = true;
    lie.heard = lie.heard || heard[i];
    lie.component = now.solved.component[i];
    lie.end = place.start + (node.to - node.from) * (1 + place.rate);
    lie.sigma = std::max(lie.sigma, place.sigma);
  }
  return lies;
}

}  // namespace jigtime::sync
