#include "sync/track.h"

#include <algorithm>
#include <cmath>

#include "signal/statistics.h"
#include "sync/at.h"

namespace jigtime::sync {

namespace {

constexpr float luck = 1.5f;  // evidence that a window has anywhere
constexpr float jump_price = 14;
constexpr float join_price = 8;     // where two parts of a recording meet
constexpr float edge_price = 4;     // of going on or off
constexpr float move_price = 0.4f;  // of one cell to the side
constexpr int off = -1;
constexpr int nowhere = -2;

struct Cell {
  float score = 0;
  int before = off;
};
using Column = std::vector<Cell>;

class Paths {
 public:
  Paths(const LagMap& map, const Line& line, const TrackRules& rules) : map_{map}, line_{line}, rules_{rules} {
    for (int w = 0; w < map.windows(); ++w) add(w);
  }

  /// By window: the cell of the best path, or off.
  std::vector<int> best() const {
    std::vector<int> cells(columns_.size(), off);
    if (cells.empty()) return cells;
    const int top = highest(columns_.back());
    int cell = columns_.back()[at(top)].score > off_.back().score ? top : off;
    for (int w = map_.windows() - 1; w >= 0; --w) {
      cells[at(w)] = cell;
      cell = cell >= 0 ? columns_[at(w)][at(cell)].before : off_[at(w)].before;
      if (cell == nowhere) break;
    }
    return cells;
  }

  double offset(int w, int cell) const { return (cell - middle(w)) * LagMap::cell_seconds; }

  float evidence(int w, int cell) const { return map_.cells(w)[at(cell)] - luck; }

 private:
  int size(int w) const { return static_cast<int>(map_.cells(w).size()); }
  /// The cell that the line goes through.
  int middle(int w) const {
    const double t = map_.time(w);
    return size(w) / 2 + static_cast<int>(std::lround((line_(t) - map_.base()(t)) / LagMap::cell_seconds));
  }

  static int highest(const Column& column) {
    const auto lower = [](const Cell& a, const Cell& b) { return a.score < b.score; };
    return static_cast<int>(std::max_element(column.begin(), column.end(), lower) - column.begin());
  }

  bool join_between(int w) const {
    return std::any_of(rules_.joins.begin(), rules_.joins.end(),
                       [&](double t) { return t > map_.time(w - 1) && t <= map_.time(w); });
  }

  void add(int w) {
    Column column(at(size(w)));
    if (w == 0) {
      for (Cell& cell : column) cell = {0, nowhere};
      off_.push_back({0, nowhere});
    } else {
      enter(w, column);
    }
    for (int c = 0; c < size(w); ++c) column[at(c)].score += evidence(w, c);
    columns_.push_back(std::move(column));
  }

  void enter(int w, Column& column) {
    const Column& before = columns_.back();
    const int best = highest(before);
    const float jumped = before[at(best)].score - (join_between(w) ? join_price : jump_price);
    const float on = off_.back().score - edge_price;
    const int drift = middle(w) - middle(w - 1);
    for (int c = 0; c < size(w); ++c) {
      Cell& cell = column[at(c)];
      cell = on > jumped ? Cell{on, off} : Cell{jumped, best};
      for (int move = -1; move <= 1; ++move) {
        const int from = c - drift + move;
        if (from < 0 || from >= static_cast<int>(before.size())) continue;
        const float score = before[at(from)].score - (move == 0 ? 0 : move_price);
        if (score > cell.score) cell = {score, from};
      }
    }
    const float left = before[at(best)].score - edge_price;
    off_.push_back(left > off_.back().score ? Cell{left, best} : Cell{off_.back().score, off});
  }

  const LagMap& map_;
  const Line& line_;
  const TrackRules& rules_;
  std::vector<Column> columns_;
  std::vector<Cell> off_;
};

/// A run whose line keeps the base's slope and goes through the middle of its cells.
Run run_of(const LagMap& map, const Paths& paths, const Line& line, const std::vector<int>& cells, Stretch windows) {
  std::vector<double> offsets;
  Run run;
  run.windows = windows;
  for (int w = windows.first; w <= windows.last; ++w) {
    const int cell = cells[at(w)];
    if (cell < 0) continue;
    offsets.push_back(paths.offset(w, cell));
    run.score += paths.evidence(w, cell);
  }
  const double t = (map.time(windows.first) + map.time(windows.last)) / 2;
  run.line = {t, line(t) + signal::median(std::move(offsets)), line.slope};
  return run;
}

}  // namespace

std::vector<Run> follow(const LagMap& map, const Line& line, const TrackRules& rules) {
  const Paths paths{map, line, rules};
  const std::vector<int> cells = paths.best();
  std::vector<Run> runs;
  for (int w = 0; w < map.windows(); ++w) {
    if (cells[at(w)] < 0) continue;
    int last = w;
    for (int next = w + 1; next < map.windows(); ++next) {
      if (cells[at(next)] < 0) continue;
      const double moved = paths.offset(next, cells[at(next)]) - paths.offset(last, cells[at(last)]);
      if (std::abs(moved) >= rules.least_jump) break;
      last = next;
    }
    runs.push_back(run_of(map, paths, line, cells, {w, last}));
    w = last;
  }
  return runs;
}

}  // namespace jigtime::sync
