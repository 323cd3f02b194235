#include "sync/graph.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "sync/at.h"
#include "sync/common_slope.h"
#include "sync/groups.h"

namespace jigtime::sync {

namespace {

constexpr double knot_sigma = 2e-5;  // seconds
/// What two clips say of a loss by their lines; windows on both sides know it better.
constexpr double split_sigma = 0.01;
constexpr double supposed_share = 0.25;  // of what nobody heard to be lost
/// Half a window, and how well the place of a loss is known, seconds.
constexpr double either_side = 3;

int node_at(const std::vector<Node>& nodes, int first, double seconds) {
  int found = first;
  for (int i = first; i < static_cast<int>(nodes.size()) && nodes[at(i)].clip == nodes[at(first)].clip; ++i) {
    if (seconds >= nodes[at(i)].from) found = i;
  }
  return found;
}

/// Whether the clip lost time so near that a window around `seconds` heard both sides.
bool near_loss(const Graph& graph, int node, double seconds) {
  return std::any_of(graph.links.begin(), graph.links.end(), [&](const Link& link) {
    return link.lost != 0 && (link.before == node || link.before + 1 == node) &&
           std::abs(graph.nodes[at(link.before)].to - seconds) < either_side;
  });
}

void add_edges(const Segment& segment, int match, int first_a, int first_b, KnownSlopes& slopes, Graph& graph) {
  std::map<std::pair<int, int>, std::vector<Observation>> groups, doubtful;
  for (const Observation& one : segment.observations) {
    const int a = node_at(graph.nodes, first_a, one.at), b = node_at(graph.nodes, first_b, one.at + one.lag);
    const bool unclear = near_loss(graph, a, one.at) || near_loss(graph, b, one.at + one.lag);
    (unclear ? doubtful : groups)[{a, b}].push_back(one);
  }
  if (groups.empty()) groups = std::move(doubtful);
  const auto windows = static_cast<double>(segment.observations.size());
  for (auto& [nodes, observations] : groups) {
    // A few windows that seem to lie beyond a loss have no more proof than they bring.
    const double strength = segment.proof * std::sqrt(static_cast<double>(observations.size()) / windows);
    const CommonSlope common = slopes.of(match, observations);
    graph.edges.push_back({nodes.first, nodes.second, match, common.spread, common.slope, common.sigma, segment.doubt,
                           strength, std::move(observations)});
  }
}

void add_nodes(const Node& clip, const std::vector<Split>& splits, Graph& graph) {
  Node node = clip;
  const auto add = [&](double to) {
    const int parts = std::max(1, static_cast<int>(std::ceil((to - node.from) / longest_node)));
    const double from = node.from, length = (to - from) / parts;
    for (int i = 0; i < parts; ++i) {
      if (i > 0) graph.links.push_back({static_cast<int>(graph.nodes.size()) - 1, 0, knot_sigma});
      node.from = from + length * i;
      node.to = i + 1 == parts ? to : from + length * (i + 1);
      graph.nodes.push_back(node);
    }
  };
  for (const Split& split : splits) {
    if (split.at <= node.from || split.at >= clip.to) continue;
    add(split.at);
    const double sigma = split.supposed ? std::max(split_sigma, supposed_share * split.seconds) : split_sigma;
    graph.links.push_back({static_cast<int>(graph.nodes.size()) - 1, split.seconds, sigma});
    node.from = split.at;
  }
  add(clip.to);
}

}  // namespace

Graph build_graph(const std::vector<Node>& clips, const std::vector<std::vector<Split>>& splits,
                  const std::vector<PairMatch>& matches, KnownSlopes* slopes) {
  KnownSlopes own;
  Graph graph;
  std::vector<int> firsts;
  for (std::size_t i = 0; i < clips.size(); ++i) {
    firsts.push_back(static_cast<int>(graph.nodes.size()));
    add_nodes(clips[i], splits[i], graph);
  }
  for (std::size_t i = 0; i < matches.size(); ++i) {
    for (const Segment& segment : matches[i].segments) {
      add_edges(segment, static_cast<int>(i), firsts[at(matches[i].a)], firsts[at(matches[i].b)],
                slopes != nullptr ? *slopes : own, graph);
    }
  }
  return graph;
}

std::vector<int> components_of(const Graph& graph) {
  const int count = static_cast<int>(graph.nodes.size());
  Groups together{graph.nodes.size()};
  for (const Edge& edge : graph.edges) together.join(edge.a, edge.b);
  for (const Link& link : graph.links) together.join(link.before, link.before + 1);
  std::map<int, double> lengths;
  for (int i = 0; i < count; ++i) lengths[together.of(i)] += graph.nodes[at(i)].to - graph.nodes[at(i)].from;
  std::vector<std::pair<double, int>> order;
  for (const auto& [node, length] : lengths) order.push_back({-length, node});
  std::sort(order.begin(), order.end());
  std::map<int, int> numbers;
  for (const auto& one : order) numbers[one.second] = static_cast<int>(numbers.size());
  std::vector<int> components;
  for (int i = 0; i < count; ++i) components.push_back(numbers[together.of(i)]);
  return components;
}

}  // namespace jigtime::sync
