#include "sync/features.h"

#include <algorithm>
#include <cmath>

namespace jigtime::sync {

namespace {

constexpr int mean_frames = 100;    // 2 s to either side
constexpr int spread_frames = 400;  // 8 s to either side
/// Spread of a band in which nothing but noise is heard, in nats: what is quieter does not count more.
constexpr double least_spread = 0.12;
constexpr float most = 4;
constexpr float least = -60;  // what falls further says no more
/// Square nats over all bands by which noise alone rarely rises from frame to frame, and above which no event counts
/// for more.
constexpr float most_of_noise = 1.6f;
constexpr float most_of_event = 12;
constexpr float noise_share = 0.02f;

/// Sums of ranges by differences.
class Sums {
 public:
  explicit Sums(std::size_t count) : sums_(count + 1, 0.0) {}
  void set(std::size_t i, double value) { sums_[i + 1] = sums_[i] + value; }
  double mean(int around, int reach) const {
    const int count = static_cast<int>(sums_.size()) - 1;
    const int from = std::max(0, around - reach), to = std::min(count, around + reach + 1);
    return (sums_[static_cast<std::size_t>(to)] - sums_[static_cast<std::size_t>(from)]) / (to - from);
  }

 private:
  std::vector<double> sums_;
};

}  // namespace

Frames::Frames(const Features& features) : origin_{to_seconds(features.origin)} {
  const std::size_t whole = features.bytes.size() / feature_bands;
  count_ = static_cast<int>(std::min(whole, static_cast<std::size_t>(std::max(0, features.frames))));
  const auto count = static_cast<std::size_t>(count_);
  values_.resize(count * feature_bands);
  energy_.assign(count, 0.0f);
  std::vector<float> rise(count, 0.0f), to(count);
  Sums rises{count}, squares{count};
  for (std::size_t band = 0; band < feature_bands; ++band) {
    for (std::size_t i = 0; i < count; ++i) {
      to[i] = static_cast<float>(features.bytes[i * feature_bands + band]) / feature_steps_per_nat;
      rises.set(i, to[i]);
    }
    for (std::size_t i = 0; i < count; ++i) {
      to[i] -= static_cast<float>(rises.mean(static_cast<int>(i), mean_frames));
      squares.set(i, static_cast<double>(to[i]) * to[i]);
      if (to[i] > 0) rise[i] += to[i] * to[i];
    }
    for (std::size_t i = 0; i < count; ++i) {
      const double spread = std::sqrt(squares.mean(static_cast<int>(i), spread_frames) + least_spread * least_spread);
      const float value = std::clamp(to[i] / static_cast<float>(spread), least, most);
      values_[band * count + i] = static_cast<std::int16_t>(std::lround(value * value_steps));
      energy_[i] += value * value;
    }
  }
  activity_.assign(count + 1, 0.0);
  for (std::size_t i = 0; i < count; ++i) {
    const double event = rise[i] > most_of_noise ? std::min(rise[i], most_of_event) : 0.0f;
    activity_[i + 1] = activity_[i] + event + noise_share * rise[i];
  }
}

double Frames::activity(double from, double to) const {
  if (count_ == 0) return 0;
  const auto frame = [&](double seconds) {
    return static_cast<std::size_t>(std::clamp(static_cast<int>(frame_at(seconds)), 0, count_));
  };
  return activity_[frame(to)] - activity_[frame(from)];
}

}  // namespace jigtime::sync
