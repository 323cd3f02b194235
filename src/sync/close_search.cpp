#include "sync/close_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace jigtime::sync {

namespace {

constexpr int transform = 131072;
constexpr int window_samples = static_cast<int>(CloseSearch::window_seconds * sample_rate_hz);
constexpr int lags_at_once = transform - window_samples;
constexpr double low_hz = 300, high_hz = 7000;
constexpr auto lowest_bin = static_cast<std::size_t>(low_hz * transform / sample_rate_hz);
constexpr auto highest_bin = static_cast<std::size_t>(high_hz * transform / sample_rate_hz);
constexpr float least_power = 1e-30f;
constexpr float worth_a_look = 4.6f;    // noise alone goes beyond it about once in fifteen seconds of lags
constexpr double apart = 0.5;           // seconds
constexpr double quiet_noise = 0.6745;  // median of |x| for a standard normal x
constexpr std::size_t alike = 4096;     // lags that share a noise: louder sound makes higher peaks without being alike
constexpr std::size_t looked_over = 256;  // of which it is asked at once whether any stands out
constexpr std::size_t thinned = 17;       // of which one serves for the noise

std::size_t at(std::int64_t i) { return static_cast<std::size_t>(i); }

/// Drops what lies outside the band.
void leave_band(signal::Spectrum& spectrum) {
  std::fill_n(spectrum.begin(), lowest_bin, 0.0f);
  std::fill(spectrum.begin() + highest_bin + 1, spectrum.end(), 0.0f);
}

/// Brings every bin's magnitude to its eighth root, and drops what lies outside the band.
void whiten(signal::Spectrum& spectrum) {
  leave_band(spectrum);
  float* const bins = reinterpret_cast<float*>(spectrum.data());
  for (std::size_t k = 2 * lowest_bin; k <= 2 * highest_bin; k += 2) {
    // 1 / m^(7/8) is (m^2)^(1/16) / m.
    const float root = std::sqrt(std::max(bins[k] * bins[k] + bins[k + 1] * bins[k + 1], least_power));
    const float scale = std::sqrt(std::sqrt(std::sqrt(root))) / root;
    bins[k] *= scale;
    bins[k + 1] *= scale;
  }
}

bool all_zero(std::span<const float> samples) {
  return std::all_of(samples.begin(), samples.end(), [](float sample) { return sample == 0; });
}

/// Asked of many at once, of which hardly any goes beyond it.
bool any_beyond(std::span<const float> values, float limit) {
  int beyond = 0;
  for (const float value : values) beyond += std::abs(value) > limit ? 1 : 0;
  return beyond > 0;
}

/// Keeps the highest votes at least half a second apart, highest first.
void keep_highest(std::vector<Vote>& votes, std::size_t most) {
  std::stable_sort(votes.begin(), votes.end(), [](const Vote& a, const Vote& b) { return a.z > b.z; });
  std::vector<Vote> kept;
  for (const Vote& vote : votes) {
    if (kept.size() == most) break;
    const auto near = [&](const Vote& other) { return std::abs(other.lag - vote.lag) < apart; };
    if (std::none_of(kept.begin(), kept.end(), near)) kept.push_back(vote);
  }
  votes = std::move(kept);
}

}  // namespace

CloseSearch::CloseSearch() : fft_{transform}, taper_{tapered(window_samples)}, samples_(at(transform)) {}

/// False when there is nothing but silence. A window is tapered and followed by zeros.
bool CloseSearch::transform_of(const Hearing& hearing, std::int64_t first, std::size_t samples, Sound sound,
                               signal::Spectrum& spectrum) {
  raw_.resize(samples);
  hearing.read(first, raw_);
  if (all_zero(raw_)) return false;
  if (sound == Sound::onsets) favour_onsets(raw_);
  if (samples == taper_.size()) {
    for (std::size_t i = 0; i < samples; ++i) samples_[i] = raw_[i] * taper_[i];
  } else {
    std::copy(raw_.begin(), raw_.end(), samples_.begin());
  }
  std::fill(samples_.begin() + std::ssize(raw_), samples_.end(), 0.0f);
  fft_.forward(samples_, spectrum);
  whiten(spectrum);
  return true;
}

/// Leaves the correlation with the segment in samples_, lag by lag.
void CloseSearch::correlate(const Window& window) {
  // The transform back overwrites what it is given.
  product_.resize(segment_.size());
  leave_band(product_);
  const float* const x = reinterpret_cast<const float*>(window.spectrum.data());
  const float* const y = reinterpret_cast<const float*>(segment_.data());
  float* const to = reinterpret_cast<float*>(product_.data());
  for (std::size_t k = 2 * lowest_bin; k <= 2 * highest_bin; k += 2) {
    to[k] = x[k] * y[k] + x[k + 1] * y[k + 1];
    to[k + 1] = x[k] * y[k + 1] - x[k + 1] * y[k];
  }
  fft_.inverse(product_, samples_);
}

/// Adds what stands out among the lags around it, of those from `from` to `to`; `first` is the vote at the first of
/// all.
void CloseSearch::add_peaks(std::span<const float> lags, std::size_t from, std::size_t to, const Vote& first,
                            std::vector<Vote>& votes) {
  for (std::size_t next = from; next < to; next += alike) {
    const std::size_t end = std::min(next + alike, to);
    // Of the last few the noise is that of as many as ever: of too few it would be anything.
    const std::size_t begin = std::min(next, lags.size() - std::min(alike, lags.size()));
    scratch_.clear();
    for (std::size_t i = begin; i < std::min(begin + alike, lags.size()); i += thinned) {
      scratch_.push_back(std::abs(lags[i]));
    }
    const auto middle = scratch_.begin() + std::ssize(scratch_) / 2;
    std::nth_element(scratch_.begin(), middle, scratch_.end());
    const float noise = *middle / static_cast<float>(quiet_noise);
    if (!(noise > 0)) continue;
    const float limit = worth_a_look * noise;
    for (std::size_t some = next; some < end; some += looked_over) {
      const std::size_t some_end = std::min(some + looked_over, end);
      if (!any_beyond(lags.subspan(some, some_end - some), limit)) continue;
      for (std::size_t i = some; i < some_end; ++i) {
        if (std::abs(lags[i]) <= limit) continue;
        const double lag = first.lag + static_cast<double>(i) / sample_rate_hz;
        votes.push_back({first.at, lag, static_cast<double>(std::abs(lags[i]) / noise)});
      }
    }
  }
}

std::vector<std::vector<Vote>> CloseSearch::search_each(const Hearable& a, const Hearable& b,
                                                        std::span<const Wanted> wanted, int votes,
                                                        const std::stop_token& stop, Sound sound) {
  std::vector<std::vector<Vote>> found(wanted.size());
  const double a_origin = a.hearing->origin(), b_origin = b.hearing->origin();
  const auto sample_at = [&](double t) { return std::llround((t - b_origin) * sample_rate_hz); };
  std::vector<Window> windows;
  std::int64_t begin = std::numeric_limits<std::int64_t>::max(), end = std::numeric_limits<std::int64_t>::min();
  for (const auto& [place, within] : wanted) {
    Window window;
    window.first = std::llround((place - a_origin) * sample_rate_hz) - window_samples / 2;
    // Half of a window may hang over either end.
    window.begin = sample_at(std::max(b_origin, within.from)) - window_samples / 2;
    window.end = sample_at(std::min(b.hearing->end(), within.to)) - window_samples / 2;
    if (!transform_of(*a.hearing, window.first, taper_.size(), sound, window.spectrum)) window.end = window.begin;
    if (window.begin < window.end) {
      begin = std::min(begin, window.begin);
      end = std::max(end, window.end);
    }
    windows.push_back(std::move(window));
  }
  // What several windows are looked for in is transformed once.
  for (std::int64_t first = begin; first < end && !stop.stop_requested(); first += lags_at_once) {
    bool transformed = false;
    for (std::size_t w = 0; w < windows.size(); ++w) {
      const std::int64_t from = std::max(first, windows[w].begin);
      const std::int64_t to = std::min(first + lags_at_once, windows[w].end);
      if (from >= to) continue;
      if (!transformed && !transform_of(*b.hearing, first, at(transform), sound, segment_)) break;
      transformed = true;
      correlate(windows[w]);
      const double lag = b_origin - a_origin + static_cast<double>(first - windows[w].first) / sample_rate_hz;
      const std::span<const float> lags{samples_.data(), at(std::min<std::int64_t>(lags_at_once, end - first))};
      add_peaks(lags, at(from - first), at(to - first), {wanted[w].place, lag, 0}, found[w]);
      if (found[w].size() > 4096) keep_highest(found[w], static_cast<std::size_t>(votes));
    }
  }
  for (auto& of_window : found) keep_highest(of_window, static_cast<std::size_t>(votes));
  return found;
}

std::vector<std::vector<Vote>> CloseSearch::search(const Hearable& a, const Hearable& b, const Extent& within,
                                                   std::span<const double> places, int votes,
                                                   const std::stop_token& stop, Sound sound) {
  std::vector<Wanted> wanted;
  for (const double place : places) wanted.push_back({place, within});
  return search_each(a, b, wanted, votes, stop, sound);
}

std::vector<std::vector<Vote>> CloseSearch::search_near(const Hearable& a, const Hearable& b, const Near& near,
                                                        std::span<const double> places, int votes,
                                                        const std::stop_token& stop) {
  std::vector<Wanted> wanted;
  for (const double place : places) {
    const double there = place + near.line(place);
    const Extent within{std::max(near.within.from, there - near.reach), std::min(near.within.to, there + near.reach)};
    wanted.push_back({place, within.length() < window_seconds ? Extent{there, there} : within});
  }
  return search_each(a, b, wanted, votes, stop, Sound::onsets);
}

namespace {

constexpr std::int64_t burst = 32;  // samples: 2 ms, about the length of a blow's first sound

/// How unevenly the power of what is heard lies over the bursts of a stretch: blows stand out of noise that drowns them
/// for any longer while. The difference of neighbouring samples keeps rumble out. Bursts are counted from the clip's
/// first sample; no others than those `within` are read.
class Bursts {
 public:
  Bursts(const Hearable& clip, const Extent& within) {
    const Hearing& hearing = *clip.hearing;
    const auto burst_at = [&](double t) {
      return (t - hearing.origin()) * sample_rate_hz / static_cast<double>(burst);
    };
    first_ = std::max<std::int64_t>(0, std::llround(std::ceil(burst_at(within.from))));
    const auto end = std::llround(std::floor(burst_at(std::min(within.to, hearing.end()))));
    std::vector<float> block(at(burst * 1024));
    std::optional<float> before;
    for (std::int64_t next = first_; next < end; next += 1024) {
      hearing.read(next * burst, block);
      const std::int64_t whole = std::min<std::int64_t>(1024, end - next) * burst;
      for (std::size_t i = 0; i < at(whole); i += at(burst)) {
        float power = 0;
        for (std::size_t k = i; k < i + at(burst); ++k) {
          const float off = block[k] - before.value_or(block[k]);
          power += off * off;
          before = block[k];
        }
        sums_.push_back(sums_.back() + static_cast<double>(power));
        squares_.push_back(squares_.back() + static_cast<double>(power) * power);
      }
    }
  }
  std::int64_t first() const { return first_; }
  std::int64_t end() const { return first_ + std::ssize(sums_) - 1; }
  double unevenness(std::int64_t from, std::int64_t to) const {
    const double sum = sums_[at(to - first_)] - sums_[at(from - first_)];
    const double squares = squares_[at(to - first_)] - squares_[at(from - first_)];
    return sum > 0 ? static_cast<double>(to - from) * squares / (sum * sum) : 0;
  }

 private:
  std::int64_t first_ = 0;
  std::vector<double> sums_{0}, squares_{0};  // of all bursts before each
};

}  // namespace

std::vector<double> windows_to_look_for(const Hearable& clip, int count, const Extent& within) {
  const Bursts bursts{clip, within};
  constexpr std::int64_t length = window_samples / burst, step = length / 4;
  const auto middle_of = [&](std::int64_t from) {
    return clip.hearing->origin() + static_cast<double>((from + length / 2) * burst) / sample_rate_hz;
  };
  struct Place {
    std::int64_t from = 0;
    double unevenness = 0;
  };
  std::vector<Place> places;
  for (std::int64_t from = bursts.first(); from + length <= bursts.end(); from += step) {
    places.push_back({from, bursts.unevenness(from, from + length)});
  }
  std::stable_sort(places.begin(), places.end(),
                   [](const Place& a, const Place& b) { return a.unevenness > b.unevenness; });
  std::vector<double> middles;
  for (const Place& place : places) {
    if (std::ssize(middles) == count || !(place.unevenness > 0)) break;
    const double middle = middle_of(place.from);
    const auto near = [&](double other) { return std::abs(other - middle) < CloseSearch::window_seconds; };
    if (std::none_of(middles.begin(), middles.end(), near)) middles.push_back(middle);
  }
  std::sort(middles.begin(), middles.end());
  return middles;
}

}  // namespace jigtime::sync
