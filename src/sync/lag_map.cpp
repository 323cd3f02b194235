#include "sync/lag_map.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "signal/correlate.h"
#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/line_up.h"

namespace jigtime::sync {

namespace {

constexpr int cell_samples = static_cast<int>(LagMap::cell_seconds * sample_rate_hz);
constexpr int blur_cells = 12;      // sound from all over a shop
constexpr int samples_thinned = 9;  // of which one serves for a median
constexpr int cells_thinned = 3;
constexpr double far = 0.1;          // seconds from the base beyond which no line can be true
constexpr double most_evidence = 6;  // of a window in a cell
constexpr float least_evidence = -1.5f;
constexpr double quiet_noise = 0.6745;  // median of |x| for a standard normal x
constexpr int far_slopes = 9;
constexpr double one_shop = 0.014;  // seconds by which lags of one line differ with where the sound came from

/// The median of how large every `step`-th value is, counted from `from`: neighbours say the same.
double median_size(std::span<const float> values, std::size_t step, float from, std::vector<float>& sizes) {
  sizes.clear();
  for (std::size_t i = 0; i < values.size(); i += step) sizes.push_back(std::abs(values[i] - from));
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  return *middle;
}

double median_of_cells(std::span<const float> cells, std::vector<float>& scratch) {
  scratch.clear();
  for (std::size_t i = 0; i < cells.size(); i += cells_thinned) scratch.push_back(cells[i]);
  const auto middle = scratch.begin() + static_cast<std::ptrdiff_t>(scratch.size() / 2);
  std::nth_element(scratch.begin(), middle, scratch.end());
  return *middle;
}

/// Several at once: one comparison waits for the one before it.
float largest_of(std::span<const float> values) {
  std::array<float, 8> largest{};
  std::size_t i = 0;
  for (; i + largest.size() <= values.size(); i += largest.size()) {
    for (std::size_t k = 0; k < largest.size(); ++k) {
      const float size = std::abs(values[i + k]);
      largest[k] = largest[k] < size ? size : largest[k];
    }
  }
  for (; i < values.size(); ++i) largest[0] = std::max(largest[0], std::abs(values[i]));
  return *std::max_element(largest.begin(), largest.end());
}

/// Logarithm of the mean fourth power within the blur of each cell: high where single echoes stand out. The middle
/// cell lies around sample `middle`.
std::vector<float> blurred(std::span<const float> x, int half_cells, int middle) {
  const int count = static_cast<int>(x.size());
  const int first = middle - half_cells * cell_samples - blur_cells * cell_samples / 2;
  const auto begin_of = [&](int cell) { return std::clamp(first + cell * cell_samples, 0, count); };
  // sums[i]: of the fourth powers of all cells before cell i.
  std::vector<double> sums(at(2 * half_cells + 1 + blur_cells) + 1, 0.0);
  for (int i = 0; i + 1 < static_cast<int>(sums.size()); ++i) {
    float sum = 0;
    for (int k = begin_of(i); k < begin_of(i + 1); ++k) {
      const float square = x[at(k)] * x[at(k)];
      sum += square * square;
    }
    sums[at(i + 1)] = sums[at(i)] + static_cast<double>(sum);
  }
  std::vector<float> cells;
  cells.reserve(at(2 * half_cells + 1));
  for (int i = 0; i <= 2 * half_cells; ++i) {
    const int samples = std::max(1, begin_of(i + blur_cells) - begin_of(i));
    cells.push_back(std::log(static_cast<float>((sums[at(i + blur_cells)] - sums[at(i)]) / samples) + 0.1f));
  }
  return cells;
}

void standardise(std::vector<float>& cells, std::vector<float>& scratch) {
  const double middle = median_of_cells(cells, scratch);
  const double distance = median_size(cells, cells_thinned, static_cast<float>(middle), scratch);
  const double spread = std::max(0.05, signal::mad_to_sigma * distance);
  const double highest = (*std::max_element(cells.begin(), cells.end()) - middle) / spread;
  const double scale = std::min(1.0, most_evidence / std::max(1e-6, highest));
  const auto over = static_cast<float>(scale / spread), under = static_cast<float>(1 / spread);
  for (float& one : cells) {
    const float beyond = one - static_cast<float>(middle);
    one = std::max(least_evidence, beyond * (beyond > 0 ? over : under));
  }
}

/// Windows' values along one slope, summed for a range of lags. `Row` gives a window's values and their middle index.
template <class Row>
void add_along(const Stretch& stretch, const std::vector<double>& shifts, int low, int high, const Row& row,
               std::vector<float>& sums) {
  sums.assign(at(high - low + 1), 0.0f);
  for (int w = stretch.first; w <= stretch.last; ++w) {
    const std::span<const float> values = row(w);
    const int middle = static_cast<int>(values.size()) / 2;
    const int shift = static_cast<int>(std::lround(shifts[at(w - stretch.first)]));
    const int from = std::max(low, -middle - shift), to = std::min(high, middle - shift);
    if (from > to) continue;
    const float* const source = values.data() + (from + shift + middle);
    float* const target = sums.data() + (from - low);
    for (int i = 0; i <= to - from; ++i) target[i] += source[i];
  }
}

struct Sight {
  double step = 0;  ///< seconds of one value
  bool either_sign = false;
};

/// The best line and how it stands against far ones, for rows of values `step` apart around the base line.
template <class Row, class Middle>
class Search {
 public:
  Search(const LagMap& map, const Stretch& stretch, const LineRules& rules, Sight sight, Row row, Middle middle)
      : map_{map}, stretch_{stretch}, rules_{rules}, sight_{sight}, row_{row}, middle_{middle} {
    for (int w = stretch.first; w <= stretch.last; ++w) centre_ += map.time(w) / stretch.count();
    half_length_ = std::max(map.time(stretch.last) - centre_, centre_ - map.time(stretch.first));
  }

  Backing run() {
    const int slopes =
        half_length_ > 0 ? static_cast<int>(std::ceil(rules_.slope_reach * half_length_ / sight_.step)) : 0;
    const int near = static_cast<int>(rules_.near / sight_.step);
    double best = -1e9;
    std::vector<float> sums;
    for (int k = -slopes; k <= slopes; ++k) {
      const double slope = slopes == 0 ? 0 : rules_.slope_reach * k / slopes;
      add_along(stretch_, shifts(slope), -near, near, row_, sums);
      for (int i = 0; i < static_cast<int>(sums.size()); ++i) {
        const double value = sight_.either_sign ? std::abs(sums[at(i)]) : sums[at(i)];
        if (value <= best) continue;
        best = value;
        sum_ = sums[at(i)];
        slope_ = slope;
        lag_ = i - near;
      }
    }
    return judged(slopes);
  }

 private:
  std::vector<double> shifts(double slope) const {
    std::vector<double> shifts;
    for (int w = stretch_.first; w <= stretch_.last; ++w) {
      const double t = map_.time(w);
      shifts.push_back((rules_.about(t) - map_.base()(t) + slope * (t - centre_) - middle_(w)) / sight_.step);
    }
    return shifts;
  }

  /// Sums along lines that cannot be true.
  std::vector<double> far_sums(int slopes) const {
    std::vector<double> found;
    std::vector<float> sums;
    const int reach = static_cast<int>(row_(stretch_.first).size()) / 2;
    const int nearest = static_cast<int>((rules_.near + far) / 2 / sight_.step);
    const int step = std::max(1, 2 * slopes / (far_slopes - 1));
    const auto off_base = [&](int w) { return std::abs(rules_.about(map_.time(w)) - map_.base()(map_.time(w))); };
    const double margin =
        rules_.slope_reach * half_length_ + std::max(off_base(stretch_.first), off_base(stretch_.last));
    const int farthest = reach - static_cast<int>(margin / sight_.step) - 1;
    if (farthest <= nearest) return found;
    for (int k = -slopes; k <= slopes; k += step) {
      const double slope = slopes == 0 ? 0 : rules_.slope_reach * k / slopes;
      add_along(stretch_, shifts(slope), -farthest, farthest, row_, sums);
      for (int i = -farthest; i <= farthest; ++i) {
        if (std::abs(i) > nearest) found.push_back(sums[at(i + farthest)]);
      }
    }
    return found;
  }

  Backing judged(int slopes) const {
    Backing backing;
    backing.sign = sight_.either_sign && sum_ < 0 ? -1 : 1;
    backing.line = {centre_, rules_.about(centre_) + lag_ * sight_.step, rules_.about.slope + slope_};
    const std::vector<double> others = far_sums(slopes);
    if (others.size() < 20) return backing;
    double mean = 0, square = 0, highest = -1e9;
    for (const double one : others) mean += one / static_cast<double>(others.size());
    for (const double one : others) {
      square += (one - mean) * (one - mean) / static_cast<double>(others.size());
      highest = std::max(highest, sight_.either_sign ? std::abs(one - mean) : one - mean);
    }
    const double floor = 0.5 * std::sqrt(static_cast<double>(stretch_.count()));
    const double spread = std::max(floor, std::sqrt(square));
    backing.z = backing.sign * (sum_ - mean) / spread;
    backing.rival_z = highest / spread;
    backing.rest_z = backing.sign * (sum_ - mean - best_event(backing.sign)) / spread;
    return backing;
  }

  /// The most that the windows of any one_event seconds give to the sum.
  double best_event(double sign) const {
    const std::vector<double> all = shifts(slope_);
    double most = 0, sum = 0;
    int first = stretch_.first;
    const auto value = [&](int w) {
      const std::span<const float> values = row_(w);
      const int i =
          static_cast<int>(values.size()) / 2 + lag_ + static_cast<int>(std::lround(all[at(w - stretch_.first)]));
      return i < 0 || i >= static_cast<int>(values.size()) ? 0.0 : sign * values[at(i)];
    };
    for (int w = stretch_.first; w <= stretch_.last; ++w) {
      sum += value(w);
      for (; map_.time(w) - map_.time(first) > rules_.one_event; ++first) sum -= value(first);
      most = std::max(most, sum);
    }
    return sign * most;
  }

  const LagMap& map_;
  const Stretch& stretch_;
  const LineRules& rules_;
  Sight sight_;
  Row row_;
  Middle middle_;
  double centre_ = 0;
  double half_length_ = 0;
  double sum_ = 0;
  double slope_ = 0;
  int lag_ = 0;
};

}  // namespace

LagMap::LagMap(const Line& base, double reach)
    : base_{base},
      reach_{reach},
      half_samples_{static_cast<int>(std::min(reach, sharp_reach) * sample_rate_hz)},
      half_cells_{static_cast<int>(reach / cell_seconds)} {}

void LagMap::add(double time, std::span<const float> lags, double middle_lag) {
  const double noise = median_size(lags, samples_thinned, 0, scratch_) / quiet_noise;
  if (!(noise > 0)) return;
  const double highest = std::max(noise, static_cast<double>(largest_of(lags)));
  // Scaled as a whole and not cut off, so that an echo stays lower than the direct sound.
  const double limit = std::min(1.0, most * noise / highest);
  const auto scale = static_cast<float>(limit / noise);
  scaled_.resize(lags.size());
  for (std::size_t i = 0; i < lags.size(); ++i) scaled_[i] = scale * lags[i];
  Row row;
  row.at = time;
  row.middle = middle_lag - base_(time);
  row.limit = limit;
  const int middle = static_cast<int>(lags.size()) / 2;
  const int half = std::min(half_samples_, middle);
  row.samples.assign(scaled_.begin() + (middle - half), scaled_.begin() + (middle + half + 1));
  row.cells = blurred(scaled_, half_cells_, middle - static_cast<int>(std::lround(row.middle * sample_rate_hz)));
  standardise(row.cells, scratch_);
  const auto later =
      std::upper_bound(windows_.begin(), windows_.end(), time, [](double t, const Row& other) { return t < other.at; });
  windows_.insert(later, std::move(row));
}

LagMap LagMap::of(std::span<const int> windows) const {
  LagMap some{base_, reach_};
  for (const int window : windows) {
    const Row& row = windows_[at(window)];
    some.windows_.push_back({row.at, row.middle, row.limit, {}, row.cells});
  }
  return some;
}

LagPeak LagMap::highest(int window, double lag, double nearest) const {
  const Row& row = windows_[at(window)];
  const int half = static_cast<int>(row.samples.size()) / 2;
  const double zero = base_(row.at) + row.middle;  // lag of the middle sample
  const int from = std::max(-half, static_cast<int>(std::ceil((lag - nearest - zero) * sample_rate_hz)));
  const int to = std::min(half, static_cast<int>(std::floor((lag + nearest - zero) * sample_rate_hz)));
  int best = from;
  for (int i = from; i <= to; ++i) {
    if (std::abs(row.samples[at(i + half)]) > std::abs(row.samples[at(best + half)])) best = i;
  }
  if (to < from) return {lag, 0};
  const signal::Peak peak = signal::vertex(row.samples, best + half);
  return {zero + (peak.position - half) / sample_rate_hz, std::abs(peak.height) / row.limit};
}

Backing sharp_line(const LagMap& map, const Stretch& stretch, const LineRules& rules) {
  const auto row = [&](int w) { return map.samples(w); };
  const auto middle = [&](int w) { return map.middle(w); };
  return Search{map, stretch, rules, Sight{1.0 / sample_rate_hz, true}, row, middle}.run();
}

Backing blurred_line(const LagMap& map, const Stretch& stretch, const LineRules& rules) {
  const auto row = [&](int w) { return map.cells(w); };
  const auto middle = [](int) { return 0.0; };
  return Search{map, stretch, rules, Sight{LagMap::cell_seconds, false}, row, middle}.run();
}

bool holds(const Backing& backing, const Demand& demand) {
  return backing.z >= demand.z && backing.z >= demand.ratio * backing.rival_z && backing.rest_z >= demand.rest;
}

Backings back(const LagMap& map, const Stretch& stretch, const LineRules& rules, const Demand& demand) {
  Backings backings;
  backings.blurred = blurred_line(map, stretch, rules);
  backings.by_blurred = holds(backings.blurred, demand);
  LineRules sharper = rules;
  if (backings.by_blurred) {
    sharper.about = backings.blurred.line;
    sharper.near = one_shop;
    const double length = map.time(stretch.last) - map.time(stretch.first);
    if (length > 0) sharper.slope_reach = std::min(rules.slope_reach, one_shop / length);
  }
  backings.sharp = sharp_line(map, stretch, sharper);
  backings.by_sharp = holds(backings.sharp, demand);
  return backings;
}

}  // namespace jigtime::sync
