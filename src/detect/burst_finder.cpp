#include "detect/burst_finder.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "detect/blow_train.h"

namespace jigtime::detect {
namespace {

constexpr std::int64_t hop_frames = 64;
constexpr std::size_t window_frames = 320;
constexpr int hops_to_background_check = 4;
constexpr int machine_hits = 3;  // of the latest checks
constexpr float stands_out_db = 2.5F;
constexpr double least_contrast = 0.3;
constexpr double least_regularity = 0.15;
// Measured on simulated shops: noise, talk, music, clatter and drills pass 0.5 in less than one window in a hundred.
constexpr double sure_contrast = 0.55;
constexpr double sure_in_company = 0.45;  // with two more windows that repeat
constexpr int sure_hits = 3;
constexpr int idle_hops_to_close = 6;
constexpr std::int64_t longest_pull_frames = 5 * frames_per_second;
constexpr int hops_between_pulls = 2;
constexpr double fewest_blows = 4;
constexpr double least_density = 0.33;  // hits among the loud hops: noise repeats now and then, a gun all the while

float to_db(double power) { return static_cast<float>(10 * std::log10(power + 1e-12)); }

float push(std::array<float, 3>& latest, float value) {
  latest = {latest[1], latest[2], value};
  return latest[0] + latest[1] + latest[2];
}

}  // namespace

BurstFinder::BurstFinder() { recent_.reserve(window_frames); }

std::optional<Burst> BurstFinder::add(const Frame& frame) {
  if (recent_.size() == window_frames) recent_.erase(recent_.begin(), recent_.begin() + hop_frames);
  // The geometric mean of the bands: both must rise for a blow to show.
  recent_.push_back(std::sqrt(std::sqrt(push(middle_, frame.middle) * push(high_, frame.high))));
  sum_ += frame.power();
  ++frames_;
  if (frames_ % hop_frames != 0) return std::nullopt;
  return hop();
}

std::optional<Burst> BurstFinder::hop() {
  const double power = sum_ / hop_frames;
  sum_ = 0;
  std::rotate(powers_.begin(), powers_.begin() + 1, powers_.end());
  powers_.back() = power;
  // Over a whole window, since one hop may hold one blow or two.
  const float level_db =
      to_db(std::accumulate(powers_.begin(), powers_.end(), 0.0) / static_cast<double>(powers_.size()));
  const int hits_before = run_ ? run_->hits : 0;
  if (recent_.size() == window_frames) {
    if (level_db > background_.level_db() + stands_out_db) {
      extend(level_db);
    } else if (!run_ && frames_ / hop_frames % hops_to_background_check == 0) {
      hear_background();
    }
  }
  background_.add(level_db);
  if (!run_) return std::nullopt;
  watch_level(to_db(power));
  idle_hops_ = run_->hits > hits_before ? 0 : idle_hops_ + 1;
  // Without a fall of the level the trigger is not let go: a machine goes on and outlasts any pull.
  const bool ended = idle_hops_ >= idle_hops_to_close && run_->low_hops >= hops_between_pulls;
  if (!ended && run_->longest_pull <= longest_pull_frames) return std::nullopt;
  return close();
}

void BurstFinder::hear_background() {
  const auto train = blow_train(recent_);
  const bool even = train && train->contrast >= least_contrast && train->regularity >= least_regularity;
  remember_machine(even ? train->rate_hz : 0);
}

void BurstFinder::remember_machine(double rate_hz) {
  machine_hz_[next_machine_] = rate_hz;
  next_machine_ = (next_machine_ + 1) % machine_hz_.size();
}

bool BurstFinder::runs_in_background(double rate_hz) const {
  return std::count_if(machine_hz_.begin(), machine_hz_.end(), [rate_hz](double machine_hz) {
           return std::abs(machine_hz - rate_hz) < 0.1 * rate_hz;
         }) >= machine_hits;
}

void BurstFinder::extend(float level_db) {
  const auto train = blow_train(recent_);
  if (!train || train->contrast < least_contrast || train->regularity < least_regularity) return;
  if (runs_in_background(train->rate_hz)) return;
  if (!run_) {
    run_ = Run{};
    run_->begin = frames_ - static_cast<std::int64_t>(window_frames) + hop_frames;
    run_->pull_begin = run_->begin;
    run_->background_db = background_.level_db();
    idle_hops_ = 0;
  }
  run_->end = frames_;
  ++run_->hits;
  run_->regularity += train->regularity;
  run_->rate_hz += train->rate_hz;
  run_->contrasts += train->contrast;
  run_->contrast = std::max(run_->contrast, train->contrast);
  run_->loudest_db = std::max(run_->loudest_db, level_db);
}

/// Counts the pulls of the trigger by the dips between them: half-way down to the background.
void BurstFinder::watch_level(float level_db) {
  if (level_db < 0.5F * (run_->loudest_db + run_->background_db)) {
    ++run_->low_hops;
    return;
  }
  if (run_->low_hops >= hops_between_pulls) {
    ++run_->pulls;
    run_->pull_begin = frames_ - hop_frames;
  }
  run_->low_hops = 0;
  ++run_->loud_hops;
  run_->longest_pull = std::max(run_->longest_pull, frames_ - run_->pull_begin);
}

std::optional<Burst> BurstFinder::close() {
  const Run run = *run_;
  run_.reset();
  const double rate_hz = run.rate_hz / run.hits;
  const double seconds = static_cast<double>(run.end - run.begin) / frames_per_second;
  const double mean_contrast = run.contrasts / run.hits;
  const bool sure = run.contrast >= sure_contrast || (run.contrast >= sure_in_company && run.hits >= sure_hits);
  const bool dense = run.hits >= least_density * run.loud_hops;
  if (run.longest_pull > longest_pull_frames) {
    for (int n = 0; dense && n < machine_hits; ++n) remember_machine(rate_hz);
    return std::nullopt;
  }
  if (!sure || !dense || rate_hz * seconds < fewest_blows) return std::nullopt;
  const double above_db = std::clamp<double>(run.loudest_db - run.background_db, 0, 20);
  const double evenness = std::clamp((run.contrast - sure_in_company) / 0.5, 0.0, 1.0);
  const double steadiness = std::clamp((mean_contrast - least_contrast) / 0.4, 0.0, 1.0);
  const double confidence =
      0.5 + 0.2 * evenness + 0.1 * steadiness + 0.07 * above_db / 20 + 0.1 * std::min(run.hits, 6) / 6;
  return Burst{static_cast<double>(run.begin) / frames_per_second, static_cast<double>(run.end) / frames_per_second,
               std::min(run.pulls, run.hits), rate_hz, std::min(confidence, 0.95)};
}

std::optional<Burst> BurstFinder::finish() { return run_ ? close() : std::nullopt; }

}  // namespace jigtime::detect
