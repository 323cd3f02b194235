#include "detect/clap_finder.h"

#include <algorithm>
#include <cmath>

namespace jigtime::detect {
namespace {

constexpr std::int64_t hop_frames = 8;
constexpr double hop_s = static_cast<double>(hop_frames) / frames_per_second;
constexpr double rises_by_db = 9;      // over the level of the tenth of a second before
constexpr double above_quiet_db = 12;  // over the slow level
constexpr double falls_by_db = 8;      // within fades_within_s
constexpr double fades_within_s = 0.16;
constexpr int hops_between_knocks = 9;  // 72 ms: the echo of a knock is no knock
constexpr double least_gap_s = 0.25;
constexpr double longest_gap_s = 0.7;
constexpr double alone_s = 1.0;
constexpr double uneven_at_most = 0.18;  // difference of the gaps over their mean
constexpr double levels_within_db = 7;

}  // namespace

std::optional<Claps> ClapFinder::add(const Frame& frame) {
  sum_ += frame.power();
  ++frames_;
  if (frames_ % hop_frames != 0) return std::nullopt;
  follow(10 * std::log10(sum_ / hop_frames + 1e-12));
  sum_ = 0;
  if (since_knock_ * hop_s < alone_s || knocks_.empty()) return std::nullopt;
  return judge();
}

void ClapFinder::follow(double level_db) {
  const double before_db = *std::max_element(recent_.begin(), recent_.end());
  std::rotate(recent_.begin(), recent_.begin() + 1, recent_.end());
  recent_.back() = level_db;
  ++since_knock_;
  const double now_s = static_cast<double>(frames_) / frames_per_second;
  if (!knocks_.empty() && since_knock_ <= hops_between_knocks) {
    knocks_.back().level_db = std::max(knocks_.back().level_db, level_db);
  }
  if (!knocks_.empty() && since_knock_ * hop_s < fades_within_s && level_db < knocks_.back().level_db - falls_by_db) {
    knocks_.back().short_lived = true;
  }
  const bool sharp = level_db > before_db + rises_by_db && level_db > quiet_db_ + above_quiet_db;
  if (sharp && since_knock_ > hops_between_knocks) {
    knocks_.push_back({now_s - hop_s, level_db, level_db - quiet_db_, false});
    if (knocks_.size() > 5) knocks_.pop_front();
    since_knock_ = 0;
  }
  // Rises slowly and falls quickly, so that a knock does not count as its own surroundings.
  quiet_db_ += (level_db > quiet_db_ ? 0.01 : 0.2) * (level_db - quiet_db_);
}

std::optional<Claps> ClapFinder::judge() {
  const std::deque<Knock> knocks = std::move(knocks_);
  knocks_.clear();
  const std::size_t count = knocks.size();
  if (count < 3) return std::nullopt;
  const Knock& first = knocks[count - 3];
  const Knock& second = knocks[count - 2];
  const Knock& third = knocks[count - 1];
  if (count > 3 && first.at_s - knocks[count - 4].at_s < alone_s) return std::nullopt;
  const double gap_1 = second.at_s - first.at_s;
  const double gap_2 = third.at_s - second.at_s;
  const double uneven = std::abs(gap_1 - gap_2) / (0.5 * (gap_1 + gap_2));
  const auto [low, high] = std::minmax({first.level_db, second.level_db, third.level_db});
  const bool gaps_fit = std::min(gap_1, gap_2) >= least_gap_s && std::max(gap_1, gap_2) <= longest_gap_s;
  const bool all_short = first.short_lived && second.short_lived && third.short_lived;
  if (!gaps_fit || !all_short || uneven > uneven_at_most || high - low > levels_within_db) return std::nullopt;
  const double above_db = std::min({first.above_db, second.above_db, third.above_db});
  const double confidence = 0.4 + 0.2 * (1 - uneven / uneven_at_most) + 0.2 * (1 - (high - low) / levels_within_db) +
                            0.15 * std::clamp((above_db - above_quiet_db) / 15, 0.0, 1.0);
  return Claps{first.at_s, third.at_s + 0.1, confidence};
}

std::optional<Claps> ClapFinder::finish() { return judge(); }

}  // namespace jigtime::detect
