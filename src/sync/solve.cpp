#include "sync/solve.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "signal/statistics.h"

namespace jigtime::sync {

namespace {

constexpr double longest_bin = 300;    // observations of one edge that close together count as one
constexpr double bins_of_an_edge = 6;  // at least, so that the rate is seen
constexpr double least_sigma = 5e-5;   // seconds: no bin is better than that
constexpr double held_sigma = 1e-6;
constexpr double rate_prior = 60e-6;
constexpr double rate_unit = 1e-6;      // rates are solved in ppm, of a size with the starts
constexpr double contradiction = 0.06;  // seconds beyond five sigma

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// One row of the least squares: a's clip time t_a and b's t_b are the same instant.
struct Row {
  int edge = 0;
  double t_a = 0;
  double t_b = 0;
  double sigma = 1;
  double factor = 1;  // robust down-weighting
};

Row row_of(int edge, double spread, const std::vector<Observation>& bin) {
  std::vector<signal::Weighted> lags;
  double sum = 0, sum_at = 0;
  const double slope = bin.size() < 2 ? 0 : fit_line(bin, 0, 1e-4).line.slope;
  for (const Observation& one : bin) {
    sum += one.weight;
    sum_at += one.weight * one.at;
  }
  const double middle = sum_at / sum;
  for (const Observation& one : bin) lags.push_back({one.lag - slope * (one.at - middle), one.weight});
  Row row{edge, middle, middle, 1, 1};
  row.t_b += signal::weighted_median(std::move(lags));
  row.sigma = std::hypot(1.25 * spread / std::sqrt(static_cast<double>(bin.size())), least_sigma);
  return row;
}

std::vector<Row> rows_of(const Graph& graph) {
  std::vector<Row> rows;
  for (int i = 0; i < static_cast<int>(graph.edges.size()); ++i) {
    const Edge& edge = graph.edges[at(i)];
    if (edge.observations.empty()) continue;
    std::vector<Observation> bin;
    const double length = edge.observations.back().at - edge.observations.front().at;
    const double bin_seconds = std::min(longest_bin, length / bins_of_an_edge);
    for (const Observation& one : edge.observations) {
      if (!bin.empty() && one.at - bin.front().at > bin_seconds) {
        rows.push_back(row_of(i, edge.spread, bin));
        bin.clear();
      }
      bin.push_back(one);
    }
    if (!bin.empty()) rows.push_back(row_of(i, edge.spread, bin));
  }
  return rows;
}

class System {
 public:
  System(const Graph& graph, const SolveRules& rules, const std::vector<int>& component)
      : graph_{graph}, rules_{rules}, nodes_{static_cast<int>(graph.nodes.size())}, unknowns_{nodes_ + rules.cameras} {
    // Every component hangs on one node: the longest of the reference camera, or of any where it has none.
    std::map<int, int> anchors;
    for (int i = 0; i < nodes_; ++i) {
      const auto weight = [&](int node) {
        const Node& n = graph.nodes[at(node)];
        return (n.camera == rules.reference ? 1e9 : 0) + n.to - n.from;
      };
      const auto found = anchors.find(component[at(i)]);
      if (found == anchors.end() || weight(i) > weight(found->second)) anchors[component[at(i)]] = i;
    }
    for (const auto& [number, node] : anchors) held_.push_back(node);
  }

  void solve(const std::vector<Row>& rows) {
    Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(unknowns_, unknowns_);
    Eigen::VectorXd right = Eigen::VectorXd::Zero(unknowns_);
    for (const int node : held_) normal(node, node) += 1 / (held_sigma * held_sigma);
    for (int camera = 0; camera < rules_.cameras; ++camera) {
      const double prior = (camera == rules_.reference ? 1e-12 : rate_prior) / rate_unit;
      normal(nodes_ + camera, nodes_ + camera) += 1 / (prior * prior);
    }
    for (const Row& row : rows) add(row, normal, right);
    const Eigen::LDLT<Eigen::MatrixXd> factors{normal};
    solution_ = factors.solve(right);
    covariance_ = factors.solve(Eigen::MatrixXd::Identity(unknowns_, unknowns_));
  }

  double residual(const Row& row) const {
    const Edge& edge = graph_.edges[at(row.edge)];
    return session(edge.a, row.t_a) - session(edge.b, row.t_b);
  }
  double start(int node) const { return solution_(node); }
  double rate(int camera) const { return solution_(nodes_ + camera) * rate_unit; }
  double variance(int node, double t) const {
    const Node& n = graph_.nodes[at(node)];
    const double in = (t - n.from) * rate_unit;
    const int r = nodes_ + n.camera;
    return covariance_(node, node) + 2 * in * covariance_(node, r) + in * in * covariance_(r, r);
  }

 private:
  double session(int node, double t) const {
    const Node& n = graph_.nodes[at(node)];
    return solution_(node) + (t - n.from) * (1 + rate(n.camera));
  }

  void add(const Row& row, Eigen::MatrixXd& normal, Eigen::VectorXd& right) const {
    const Edge& edge = graph_.edges[at(row.edge)];
    const Node& a = graph_.nodes[at(edge.a)];
    const Node& b = graph_.nodes[at(edge.b)];
    const double in_a = row.t_a - a.from, in_b = row.t_b - b.from;
    const double weight = row.factor / (row.sigma * row.sigma);
    const std::pair<int, double> terms[] = {
        {edge.a, 1}, {edge.b, -1}, {nodes_ + a.camera, in_a * rate_unit}, {nodes_ + b.camera, -in_b * rate_unit}};
    for (const auto& [i, x] : terms) {
      right(i) += weight * x * (in_b - in_a);
      for (const auto& [j, y] : terms) normal(i, j) += weight * x * y;
    }
  }

  const Graph& graph_;
  const SolveRules& rules_;
  int nodes_;
  int unknowns_;
  std::vector<int> held_;
  Eigen::VectorXd solution_;
  Eigen::MatrixXd covariance_;
};

/// The strongest edges that tie everything together without a loop.
std::vector<bool> spanning(const Graph& graph) {
  std::vector<int> order(graph.edges.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return graph.edges[at(a)].strength > graph.edges[at(b)].strength; });
  std::vector<int> roots(graph.nodes.size());
  std::iota(roots.begin(), roots.end(), 0);
  const auto root = [&](int node) {
    while (roots[at(node)] != node) node = roots[at(node)] = roots[at(roots[at(node)])];
    return node;
  };
  std::vector<bool> chosen(graph.edges.size(), false);
  for (const int i : order) {
    const int a = root(graph.edges[at(i)].a), b = root(graph.edges[at(i)].b);
    if (a == b) continue;
    roots[at(a)] = b;
    chosen[at(i)] = true;
  }
  return chosen;
}

}  // namespace

Solved solve(const Graph& graph, const SolveRules& rules) {
  Solved solved;
  solved.component = components_of(graph);
  solved.dropped.assign(graph.edges.size(), false);
  System system{graph, rules, solved.component};
  const std::vector<Row> all = rows_of(graph);
  std::vector<bool> used = spanning(graph);
  std::vector<Row> rows;
  const auto take_used = [&] {
    rows.clear();
    for (const Row& row : all) {
      if (used[at(row.edge)]) rows.push_back(row);
    }
  };
  take_used();
  system.solve(rows);
  for (const Row& row : all) {
    if (std::abs(system.residual(row)) > contradiction + 5 * row.sigma) solved.dropped[at(row.edge)] = true;
  }
  for (std::size_t i = 0; i < used.size(); ++i) used[i] = !solved.dropped[i];
  take_used();
  double inflation = 1;
  for (int round = 0; round < 10; ++round) {
    system.solve(rows);
    std::vector<double> scaled;
    for (Row& row : rows) {
      const double off = system.residual(row) / row.sigma;
      scaled.push_back(std::abs(off));
      row.factor = std::min(1.0, 2.5 / std::max(1e-9, std::abs(off)));
    }
    if (!scaled.empty()) inflation = std::max(1.0, signal::mad_to_sigma * signal::median(std::move(scaled)));
  }
  for (int camera = 0; camera < rules.cameras; ++camera) solved.rates.push_back(system.rate(camera));
  for (int i = 0; i < static_cast<int>(graph.nodes.size()); ++i) {
    const Node& node = graph.nodes[at(i)];
    const double variance = std::max(system.variance(i, node.from), system.variance(i, node.to));
    solved.places.push_back(
        {system.start(i), system.rate(node.camera), inflation * std::sqrt(std::max(0.0, variance))});
  }
  return solved;
}

}  // namespace jigtime::sync
