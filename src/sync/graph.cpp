#include "sync/graph.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace jigtime::sync {

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

int node_at(const std::vector<Node>& nodes, int first, double seconds) {
  int found = first;
  for (int i = first; i < static_cast<int>(nodes.size()) && nodes[at(i)].clip == nodes[at(first)].clip; ++i) {
    if (seconds >= nodes[at(i)].from) found = i;
  }
  return found;
}

void add_edges(const Segment& segment, int match, int first_a, int first_b, Graph& graph) {
  std::map<std::pair<int, int>, std::vector<Observation>> groups;
  for (const Observation& one : segment.observations) {
    const int a = node_at(graph.nodes, first_a, one.at), b = node_at(graph.nodes, first_b, one.at + one.lag);
    groups[{a, b}].push_back(one);
  }
  for (auto& [nodes, observations] : groups) {
    Edge edge{nodes.first, nodes.second, match, segment.fit.spread, static_cast<double>(observations.size()), {}};
    edge.observations = std::move(observations);
    graph.edges.push_back(std::move(edge));
  }
}

}  // namespace

Graph build_graph(const std::vector<Node>& clips, const std::vector<std::vector<Split>>& splits,
                  const std::vector<PairMatch>& matches) {
  Graph graph;
  std::vector<int> firsts;
  for (std::size_t i = 0; i < clips.size(); ++i) {
    firsts.push_back(static_cast<int>(graph.nodes.size()));
    Node node = clips[i];
    for (const Split& split : splits[i]) {
      if (split.at <= node.from || split.at >= clips[i].to) continue;
      node.to = split.at;
      graph.nodes.push_back(node);
      node.from = split.at;
    }
    node.to = clips[i].to;
    graph.nodes.push_back(node);
  }
  for (std::size_t i = 0; i < matches.size(); ++i) {
    for (const Segment& segment : matches[i].segments) {
      add_edges(segment, static_cast<int>(i), firsts[at(matches[i].a)], firsts[at(matches[i].b)], graph);
    }
  }
  return graph;
}

std::vector<int> components_of(const Graph& graph) {
  std::vector<int> roots(graph.nodes.size());
  std::iota(roots.begin(), roots.end(), 0);
  const auto root = [&](int node) {
    while (roots[at(node)] != node) node = roots[at(node)] = roots[at(roots[at(node)])];
    return node;
  };
  for (const Edge& edge : graph.edges) roots[at(root(edge.a))] = root(edge.b);
  std::map<int, double> lengths;
  for (int i = 0; i < static_cast<int>(roots.size()); ++i)
    lengths[root(i)] += graph.nodes[at(i)].to - graph.nodes[at(i)].from;
  std::vector<std::pair<double, int>> order;
  for (const auto& [node, length] : lengths) order.push_back({-length, node});
  std::sort(order.begin(), order.end());
  std::map<int, int> numbers;
  for (const auto& one : order) numbers[one.second] = static_cast<int>(numbers.size());
  std::vector<int> components;
  for (int i = 0; i < static_cast<int>(roots.size()); ++i) components.push_back(numbers[root(i)]);
  return components;
}

}  // namespace jigtime::sync
