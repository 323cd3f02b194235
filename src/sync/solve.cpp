#include "sync/solve.h"

#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/groups.h"

namespace jigtime::sync {

namespace {

constexpr double longest_bin = 300;    // observations of one edge that close together count as one
constexpr double bins_of_an_edge = 6;  // at least, so that the rate is seen
constexpr double least_sigma = 5e-5;   // seconds: no bin is better than that
constexpr double held_sigma = 1e-6;
constexpr double rate_unit = 1e-6;  // rates are solved in ppm, of a size with the starts
constexpr double rate_prior = 60e-6;
constexpr double clip_rate_prior = 4e-6;  // of a clip's rate around its camera's: a warm start, a cold one
constexpr double warming = 3e-6;          // from one node of a clip to the next
constexpr double exact = 1e-12;
// The places in a shop that sound comes from: seconds for which it stays at one of them, and how far their lags lie
// apart as long as little was heard, counted as if so many had been heard. A day's work goes on at few places: own
// simulation, 20 sessions of an hour: 2 standard errors cover 95 % with three of them, 99 % with two, and 86 % with
// four that were usually 4 ms apart.
constexpr double one_place_seconds = 120;
constexpr double usual_spread = 0.005;
constexpr double usual_places = 2;
constexpr double most_spells = 3;
constexpr double one_way_spread = 0.00025;  // below it all sound came from one place
constexpr double least_scale = 2e-4;
constexpr double contradiction = 0.06;  // seconds beyond five sigma
/// Seconds by which what a pair heard may lie off where all pairs together put its clips: more than microphones and
/// places in a shop explain, and by how much more than what is taken for usual. Another simulation, 261 edges of 40
/// sessions: 5 lie off by more than 20 ms, four of them in sessions with a loss that nobody was told of.
constexpr double unexplained = 0.02, beyond_usual = 1.5;

/// One row of the least squares: a's clip time t_a and b's t_b are the same instant.
struct Row {
  int edge = 0;
  double t_a = 0;
  double t_b = 0;
  double sigma = 1;
  double factor = 1;  // robust down-weighting
};

/// Mean of the lags along the slope in which far ones count less; and how many they are worth.
double middle_lag(const std::vector<Observation>& bin, double slope, double middle, double scale) {
  std::vector<signal::Weighted> lags;
  for (const Observation& one : bin) lags.push_back({one.lag - slope * (one.at - middle), one.weight});
  double centre = signal::weighted_median(lags);
  for (int round = 0; round < 5; ++round) {
    double sum = 0, weights = 0;
    for (const signal::Weighted& one : lags) {
      const double far = (one.value - centre) / scale;
      const double weight = one.weight / (1 + far * far);
      sum += weight * one.value;
      weights += weight;
    }
    centre = sum / weights;
  }
  return centre;
}

/// How many places in the shop an edge heard, if sound stays at one for a while.
double spells_of(const Edge& edge) {
  return 1 + (edge.observations.back().at - edge.observations.front().at) / one_place_seconds;
}

/// Sounds that follow each other closely come from one place and say the same.
double sigma_of(const Edge& edge, const std::vector<Observation>& bin) {
  const double share = static_cast<double>(bin.size()) / static_cast<double>(edge.observations.size());
  const bool one_way = edge.spread < one_way_spread;
  const double told = one_way ? static_cast<double>(bin.size())
                              : std::min(static_cast<double>(bin.size()), std::max(0.3, spells_of(edge) * share));
  return std::hypot(1.25 * edge.spread / std::sqrt(told), least_sigma);
}

/// Variance of the lags of places in the shop, from what was heard of them and from what is usual.
double places_variance(double spells, double squares) {
  return (usual_places * usual_spread * usual_spread + squares) / (usual_places + spells);
}

/// Two cameras that stand where they stand, and the places between which the work goes on: where these do not lie all
/// around, the mean of all lags stays off however long they are heard. Sum of it over a session's edges.
struct Sides {
  double spells = 0;
  double squares = 0;

  void add(const Edge& edge) {
    spells += spells_of(edge);
    squares += spells_of(edge) * edge.spread * edge.spread;
  }
  /// Standard error that all edges between the two cameras have in common. The same place heard for hours tells nothing
  /// of the others: no more than a few spells count.
  double sigma() const {
    const double counted = std::min(1.0, most_spells / std::max(spells, 1.0));
    return std::sqrt(places_variance(counted * spells, counted * squares) / most_spells);
  }
};

/// Standard error of an edge's lag as a whole beyond that: when few places were heard, how far the others lie from them
/// is not known.
double bias_of(const Edge& edge) {
  const double spells = spells_of(edge);
  const double variance = places_variance(spells, spells * edge.spread * edge.spread);
  const double places = std::sqrt(variance * std::max(0.0, 1 / std::min(spells, most_spells) - 1 / most_spells));
  return std::hypot(places, edge.doubt) + held_sigma;
}

Row row_of(int index, const Edge& edge, const std::vector<Observation>& bin) {
  double sum = 0, sum_at = 0;
  for (const Observation& one : bin) {
    sum += one.weight;
    sum_at += one.weight * one.at;
  }
  const double middle = sum_at / sum;
  Row row{index, middle, middle, sigma_of(edge, bin), 1};
  row.t_b += middle_lag(bin, edge.slope, middle, std::max(2.5 * edge.spread, least_scale));
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
        rows.push_back(row_of(i, edge, bin));
        bin.clear();
      }
      bin.push_back(one);
    }
    if (!bin.empty()) rows.push_back(row_of(i, edge, bin));
  }
  return rows;
}

/// Unknowns: every node's start and rate, every camera's rate, and how far each edge's sounds lie off the mean place.
class System {
 public:
  System(const Graph& graph, const SolveRules& rules, const std::vector<int>& component)
      : graph_{graph},
        rules_{rules},
        nodes_{static_cast<int>(graph.nodes.size())},
        unknowns_{2 * nodes_ + rules.cameras + static_cast<int>(graph.edges.size())} {
    for (const Edge& edge : graph.edges) {
      if (edge.match < 0) continue;
      const auto [sides, added] = sides_.try_emplace(cameras_of(edge), std::pair{unknowns_, Sides{}});
      sides->second.second.add(edge);
      unknowns_ += added ? 1 : 0;
    }
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

  /// `taken`: by edge, whether its slope counts.
  void solve(const std::vector<Row>& rows, const std::vector<bool>& taken) {
    entries_.clear();
    right_ = Eigen::VectorXd::Zero(unknowns_);
    for (const int node : held_) add({{node, 1}}, 0, held_sigma);
    for (int camera = 0; camera < rules_.cameras; ++camera) {
      add({{camera_rate(camera), 1}}, 0, (camera == rules_.reference ? exact : rate_prior) / rate_unit);
    }
    for (int i = 0; i < nodes_; ++i) {
      const int camera = graph_.nodes[at(i)].camera;
      const double sigma = camera == rules_.reference ? exact : clip_rate_prior;
      add({{node_rate(i), 1}, {camera_rate(camera), -1}}, 0, sigma / rate_unit);
    }
    for (const Link& link : graph_.links) add(link);
    for (int i = 0; i < static_cast<int>(graph_.edges.size()); ++i) {
      const Edge& edge = graph_.edges[at(i)];
      add({{bias(i), 1}}, 0, edge.match < 0 ? held_sigma : bias_of(edge));
      if (edge.match >= 0 && taken[at(i)]) {
        add({{node_rate(edge.a), 1}, {node_rate(edge.b), -1}}, edge.slope / rate_unit, edge.slope_sigma / rate_unit);
      }
    }
    for (const auto& [cameras, side] : sides_) add({{side.first, 1}}, 0, side.second.sigma());
    for (const Row& row : rows) add(row);
    Eigen::SparseMatrix<double> normal{unknowns_, unknowns_};
    normal.setFromTriplets(entries_.begin(), entries_.end());
    factors_.compute(normal);
    solution_ = factors_.solve(right_);
  }

  /// Seconds by which the two clips' words lie apart, be it for where the sound came from.
  double apart(const Row& row) const {
    const Edge& edge = graph_.edges[at(row.edge)];
    return session(edge.a, row.t_a) - session(edge.b, row.t_b);
  }
  double residual(const Row& row) const {
    return apart(row) - solution_(bias(row.edge)) - shared_bias(graph_.edges[at(row.edge)]);
  }
  /// The nodes on which the components hang.
  const std::vector<int>& held() const { return held_; }
  /// Standard error of an edge's lag as a whole.
  double usual_of(const Edge& edge) const {
    const auto side = sides_.find(cameras_of(edge));
    return std::hypot(bias_of(edge), side == sides_.end() ? 0 : side->second.second.sigma());
  }
  double start(int node) const { return solution_(node); }
  double rate(int node) const { return solution_(node_rate(node)) * rate_unit; }
  double rate_of_camera(int camera) const { return solution_(camera_rate(camera)) * rate_unit; }

  /// Mean variance of a node's session times.
  double variance(int node) const {
    const Eigen::VectorXd of_start = column(node), of_rate = column(node_rate(node));
    const double length = (graph_.nodes[at(node)].to - graph_.nodes[at(node)].from) * rate_unit;
    return of_start(node) + length * of_start(node_rate(node)) + length * length / 3 * of_rate(node_rate(node));
  }

 private:
  using Terms = std::initializer_list<std::pair<int, double>>;
  int node_rate(int node) const { return nodes_ + node; }
  int camera_rate(int camera) const { return 2 * nodes_ + camera; }
  int bias(int edge) const { return 2 * nodes_ + rules_.cameras + edge; }

  /// The cameras of an edge, the lower number first.
  std::pair<int, int> cameras_of(const Edge& edge) const {
    return std::minmax(graph_.nodes[at(edge.a)].camera, graph_.nodes[at(edge.b)].camera);
  }
  double turned(const Edge& edge) const {
    return graph_.nodes[at(edge.a)].camera <= graph_.nodes[at(edge.b)].camera ? 1 : -1;
  }
  double shared_bias(const Edge& edge) const {
    const auto side = sides_.find(cameras_of(edge));
    return edge.match < 0 || side == sides_.end() ? 0 : turned(edge) * solution_(side->second.first);
  }

  double session(int node, double t) const {
    return solution_(node) + (t - graph_.nodes[at(node)].from) * (1 + rate(node));
  }

  Eigen::VectorXd column(int unknown) const {
    Eigen::VectorXd unit = Eigen::VectorXd::Zero(unknowns_);
    unit(unknown) = 1;
    return factors_.solve(unit);
  }

  /// sum of the terms = value, give or take sigma.
  void add(Terms terms, double value, double sigma) {
    const double weight = 1 / (sigma * sigma);
    for (const auto& [i, x] : terms) {
      right_(i) += weight * x * value;
      for (const auto& [j, y] : terms) entries_.emplace_back(i, j, weight * x * y);
    }
  }

  void add(const Link& link) {
    const Node& node = graph_.nodes[at(link.before)];
    const double length = node.to - node.from;
    const int next = link.before + 1;
    add({{next, 1}, {link.before, -1}, {node_rate(link.before), -length * rate_unit}}, length + link.lost, link.sigma);
    add({{node_rate(next), 1}, {node_rate(link.before), -1}}, 0, warming / rate_unit);
  }

  void add(const Row& row) {
    const Edge& edge = graph_.edges[at(row.edge)];
    const double in_a = row.t_a - graph_.nodes[at(edge.a)].from, in_b = row.t_b - graph_.nodes[at(edge.b)].from;
    const auto side = sides_.find(cameras_of(edge));
    const bool shared = edge.match >= 0 && side != sides_.end();
    add({{edge.a, 1},
         {edge.b, -1},
         {node_rate(edge.a), in_a * rate_unit},
         {node_rate(edge.b), -in_b * rate_unit},
         {bias(row.edge), -1},
         {shared ? side->second.first : bias(row.edge), shared ? -turned(edge) : 0}},
        in_b - in_a, row.sigma / std::sqrt(row.factor));
  }

  const Graph& graph_;
  const SolveRules& rules_;
  int nodes_;
  int unknowns_;
  std::vector<int> held_;
  std::map<std::pair<int, int>, std::pair<int, Sides>> sides_;  // by cameras: the unknown, and what was heard
  std::vector<Eigen::Triplet<double>> entries_;
  Eigen::VectorXd right_;
  Eigen::VectorXd solution_;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factors_;
};

/// The strongest edges that tie everything together without a loop.
std::vector<bool> spanning(const Graph& graph) {
  std::vector<int> order(graph.edges.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return graph.edges[at(a)].strength > graph.edges[at(b)].strength; });
  Groups together{graph.nodes.size()};
  for (const Link& link : graph.links) together.join(link.before, link.before + 1);
  std::vector<bool> chosen(graph.edges.size(), false);
  for (const int i : order) chosen[at(i)] = together.join(graph.edges[at(i)].a, graph.edges[at(i)].b);
  return chosen;
}

/// The nodes that hang on those that are held by this one alone. None if it is held itself.
std::vector<int> hanging_on(int node, const Graph& graph, const std::vector<bool>& used, const std::vector<int>& held) {
  if (std::ranges::find(held, node) != held.end()) return {};
  Groups together{graph.nodes.size()};
  const auto join = [&](int a, int b) {
    if (a != node && b != node) together.join(a, b);
  };
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    if (used[i]) join(graph.edges[i].a, graph.edges[i].b);
  }
  for (const Link& link : graph.links) join(link.before, link.before + 1);
  std::vector<bool> holds(graph.nodes.size(), false);
  for (const int one : held) holds[at(together.of(one))] = true;
  std::vector<int> hanging;
  for (int i = 0; i < static_cast<int>(graph.nodes.size()); ++i) {
    if (i != node && !holds[at(together.of(i))]) hanging.push_back(i);
  }
  return hanging;
}

/// By node, how far off what one of its edges heard lies, if that is more than what is usual: something is wrong there
/// that is not known, mostly a short loss. Of an edge's two nodes the one that less ties to the rest, and what hangs
/// on that one alone.
std::vector<double> unexplained_of(const Graph& graph, const System& system, const std::vector<Row>& rows,
                                   const std::vector<bool>& used) {
  std::vector<double> found(graph.nodes.size(), 0);
  std::vector<std::vector<double>> off(graph.edges.size());
  for (const Row& row : rows) off[at(row.edge)].push_back(std::abs(system.apart(row)));
  // By what ties it to the rest; what hangs on it alone does not.
  const auto tied_by = [&](int node) {
    const std::vector<int> hanging = hanging_on(node, graph, used, system.held());
    double strength = 0;
    for (std::size_t i = 0; i < graph.edges.size(); ++i) {
      const Edge& edge = graph.edges[i];
      if (!used[i] || (edge.a != node && edge.b != node)) continue;
      if (!std::ranges::binary_search(hanging, edge.a == node ? edge.b : edge.a)) strength += edge.strength;
    }
    return strength;
  };
  for (std::size_t i = 0; i < graph.edges.size(); ++i) {
    const Edge& edge = graph.edges[i];
    if (edge.match < 0 || off[i].empty()) continue;
    const double apart = signal::median(std::move(off[i]));
    if (apart <= std::max(unexplained, beyond_usual * system.usual_of(edge))) continue;
    const int doubted = tied_by(edge.a) < tied_by(edge.b) ? edge.a : edge.b;
    found[at(doubted)] = std::max(found[at(doubted)], apart);
    for (const int other : hanging_on(doubted, graph, used, system.held())) {
      found[at(other)] = std::max(found[at(other)], apart);
    }
  }
  return found;
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
  system.solve(rows, used);
  for (const Row& row : all) {
    if (std::abs(system.residual(row)) > contradiction + 5 * row.sigma) solved.dropped[at(row.edge)] = true;
  }
  for (std::size_t i = 0; i < used.size(); ++i) used[i] = !solved.dropped[i];
  take_used();
  double inflation = 1;
  for (int round = 0; round < 10; ++round) {
    system.solve(rows, used);
    std::vector<double> scaled;
    for (Row& row : rows) {
      const double off = system.residual(row) / row.sigma;
      scaled.push_back(std::abs(off));
      row.factor = std::min(1.0, 2.5 / std::max(1e-9, std::abs(off)));
    }
    if (!scaled.empty()) inflation = std::max(1.0, signal::mad_to_sigma * signal::median(std::move(scaled)));
  }
  solved.held = system.held();
  for (int camera = 0; camera < rules.cameras; ++camera) solved.rates.push_back(system.rate_of_camera(camera));
  const std::vector<double> doubts = unexplained_of(graph, system, rows, used);
  for (int i = 0; i < static_cast<int>(graph.nodes.size()); ++i) {
    const double sigma = inflation * std::sqrt(std::max(0.0, system.variance(i)));
    solved.places.push_back({system.start(i), system.rate(i), std::hypot(sigma, doubts[at(i)])});
  }
  return solved;
}

}  // namespace jigtime::sync
