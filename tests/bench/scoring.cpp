#include "bench/scoring.h"

#include <algorithm>
#include <cmath>
#include <cstdarg>
#include <cstdio>
#include <optional>

namespace jigtime::bench {
namespace {

constexpr int instants_of_a_pair = 25;
constexpr double border_s = 2;
constexpr double smallest_step_s = 0.02;

[[gnu::format(printf, 1, 2)]] std::string text(const char* format, ...) {
  char buffer[240];
  std::va_list values;
  va_start(values, format);
  std::vsnprintf(buffer, sizeof buffer, format, values);
  va_end(values);
  return buffer;
}

/// Where a clip's placement steps: clip time, and how much of the session it skips there.
struct Step {
  double clip_at_s = 0;
  double length_s = 0;
  // Between these it lies, as the clip's notes tell; both are clip_at_s where they tell one moment.
  double earliest_s = 0;
  double latest_s = 0;
};

/// Seconds to either side in which the clip says that the step at this moment lies.
double told_loose(const sync::ClipResult& clip, ClipTime at) {
  constexpr Length same{std::chrono::milliseconds{1}};
  for (const sync::Note& note : clip.notes) {
    if (note.kind == sync::Note::Kind::dropout && std::chrono::abs(note.clip_at - at) < same)
      return to_seconds(note.loose);
  }
  return 0;
}

std::vector<Step> steps_of(const sync::ClipResult& clip) {
  std::vector<Step> steps;
  for (std::size_t i = 1; i < clip.pieces.size(); ++i) {
    const Piece& before = clip.pieces[i - 1];
    const Piece& after = clip.pieces[i];
    // What the clip's own time skips between the pieces is no loss.
    const Length skipped = after.session_start - before.to_session(after.clip_from);
    if (std::abs(to_seconds(skipped)) < smallest_step_s) continue;
    const double at = to_seconds(after.clip_from), loose = told_loose(clip, after.clip_from);
    steps.push_back({at, to_seconds(skipped), at - loose, at + loose});
  }
  return steps;
}

/// Session time of the same instant in two clips, and what their sigmas make of it.
struct Difference {
  double true_s = 0;
  double error_s = 0;
  double sigma_s = 0;
};

std::optional<Difference> difference(const Trial& trial, const sync::LineUp& result, std::size_t i, std::size_t j,
                                     double true_s) {
  const auto at_i = trial.clips[i].clip_time_of(true_s);
  const auto at_j = trial.clips[j].clip_time_of(true_s);
  if (!at_i || !at_j) return std::nullopt;
  const ClipTime t_i{from_seconds(*at_i)};
  const ClipTime t_j{from_seconds(*at_j)};
  const Piece* piece_i = piece_at(result.clips[i].pieces, t_i);
  const Piece* piece_j = piece_at(result.clips[j].pieces, t_j);
  if (piece_i == nullptr || piece_j == nullptr) return std::nullopt;
  return Difference{true_s, to_seconds(piece_i->to_session(t_i) - piece_j->to_session(t_j)),
                    std::hypot(to_seconds(piece_i->sigma), to_seconds(piece_j->sigma))};
}

class Scorer {
 public:
  Scorer(const Trial& trial, const sync::LineUp& result) : trial_{trial}, result_{result} {}

  Score run() {
    score_.sessions = 1;
    for (std::size_t i = 0; i < size(); ++i) {
      score_.sound_s += clip(i).plan.has_sound ? clip(i).length_s() : 0;
      for (std::size_t j = i + 1; j < size(); ++j) pair(i, j);
      placing(i);
      dropouts(i);
    }
    return std::move(score_);
  }

 private:
  std::size_t size() const { return trial_.clips.size(); }
  const SimulatedClip& clip(std::size_t i) const { return trial_.clips[i]; }
  const sync::ClipResult& out(std::size_t i) const { return result_.clips[i]; }
  const SessionPlan& day(std::size_t i) const { return trial_.days[static_cast<std::size_t>(trial_.day_of[i])]; }
  bool on_sound(std::size_t i) const { return out(i).basis == sync::Basis::audio; }
  static bool heard(const SimulatedClip& one) { return one.plan.has_sound && !one.plan.muted; }
  bool same_day(std::size_t i, std::size_t j) const { return trial_.day_of[i] == trial_.day_of[j]; }

  std::pair<double, double> overlap(std::size_t i, std::size_t j) const {
    return {std::max(clip(i).plan.begin_s, clip(j).plan.begin_s), std::min(clip(i).plan.end_s, clip(j).plan.end_s)};
  }

  bool share_enough(std::size_t i, std::size_t j) const {
    if (i == j || !same_day(i, j) || !heard(clip(i)) || !heard(clip(j))) return false;
    const auto [from, to] = overlap(i, j);
    return to - from >= 30 && eventful_seconds(day(i).events, from, to) >= 8;
  }

  void placing(std::size_t i) {
    bool placeable = false;
    bool has_company = false;
    for (std::size_t j = 0; j < size(); ++j) {
      placeable = placeable || share_enough(i, j);
      has_company = has_company || (i != j && same_day(i, j));
    }
    if (placeable) {
      ++score_.placeable;
      score_.placed += on_sound(i) ? 1 : 0;
      if (!on_sound(i)) note(text("clip %zu not placed on sound", i));
    }
    score_.lone += has_company ? 0 : 1;
    if (!has_company && on_sound(i)) {
      ++score_.lone_placed;
      note(text("clip %zu placed on sound, alone of its day", i));
    }
    if (!heard(clip(i)) && out(i).basis == sync::Basis::clock) by_clock(i);
  }

  std::optional<Difference> difference(std::size_t i, std::size_t j, double true_s) const {
    return bench::difference(trial_, result_, i, j, true_s);
  }

  /// True stretch around a dropout within which nobody can say where it was: the silence it lies in, and 2 s.
  std::pair<double, double> doubtful(std::size_t i, const TrueDropout& lost) const {
    double from = lost.true_at_s - border_s;
    double to = lost.true_at_s + lost.length_s + border_s;
    double last_before = clip(i).plan.begin_s;
    double first_after = clip(i).plan.end_s;
    for (const SoundEvent& event : day(i).events) {
      if (!is_foreground(event.kind)) continue;
      const double begin = static_cast<double>(event.begin) / rate_hz;
      const double end = static_cast<double>(event.end()) / rate_hz;
      if (end < lost.true_at_s) last_before = std::max(last_before, end);
      if (begin > lost.true_at_s + lost.length_s) first_after = std::min(first_after, begin);
    }
    return {std::min(from, last_before - border_s), std::max(to, first_after + border_s)};
  }

  bool near_a_dropout(std::size_t i, double true_s) const {
    return std::any_of(clip(i).dropouts.begin(), clip(i).dropouts.end(), [&](const TrueDropout& lost) {
      const auto [from, to] = doubtful(i, lost);
      return true_s >= from && true_s <= to;
    });
  }

  void pair(std::size_t i, std::size_t j) {
    if (!same_day(i, j)) {
      strangers(i, j);
      return;
    }
    if (!on_sound(i) || !on_sound(j)) return;
    const auto [from, to] = overlap(i, j);
    if (to - from < 5) return;
    std::vector<Difference> seen;
    for (int k = 0; k < instants_of_a_pair; ++k) {
      const double true_s = from + (k + 0.5) / instants_of_a_pair * (to - from);
      if (near_a_dropout(i, true_s) || near_a_dropout(j, true_s)) continue;
      if (const auto one = difference(i, j, true_s)) seen.push_back(*one);
    }
    if (!seen.empty()) judge(i, j, seen, to - from);
  }

  void judge(std::size_t i, std::size_t j, const std::vector<Difference>& seen, double overlap_s) {
    double worst_s = 0;
    const double sigma_s = seen[seen.size() / 2].sigma_s;
    bool silently = false;
    for (const Difference& one : seen) {
      silently = silently || (std::abs(one.error_s) > 0.05 && std::abs(one.error_s) > 4 * one.sigma_s);
      worst_s = std::max(worst_s, std::abs(one.error_s));
      ++score_.instants;
      score_.within_1_sigma += std::abs(one.error_s) <= one.sigma_s ? 1 : 0;
      score_.within_2_sigma += std::abs(one.error_s) <= 2 * one.sigma_s ? 1 : 0;
    }
    score_.error_ms.push_back(1e3 * worst_s);
    score_.wrong += silently ? 1 : 0;
    const bool stepless = clip(i).dropouts.empty() && clip(j).dropouts.empty();
    if (overlap_s >= 599 && stepless && seen.size() > 2) {
      const Difference& first = seen.front();
      const Difference& last = seen.back();
      score_.rate_error_ppm.push_back(1e6 * std::abs(last.error_s - first.error_s) / (last.true_s - first.true_s));
    }
    if (worst_s > 0.008 || worst_s > 5 * sigma_s + 1e-4) {
      note(text("clips %zu,%zu: off by up to %.2f ms, sigma %.3f ms, overlap %.0f s", i, j, 1e3 * worst_s,
                1e3 * sigma_s, overlap_s));
    }
  }

  void strangers(std::size_t i, std::size_t j) {
    ++score_.strangers;
    const auto names = [&](std::size_t a, std::size_t b) {
      return on_sound(a) && std::any_of(out(a).evidence.begin(), out(a).evidence.end(),
                                        [&](const sync::Evidence& one) { return one.with == static_cast<int>(b); });
    };
    if (!names(i, j) && !names(j, i)) return;
    ++score_.strangers_paired;
    note(text("clips %zu,%zu of different days named as each other's evidence", i, j));
  }

  /// Against any clip of the day that lies on sound and saw the same instant.
  void by_clock(std::size_t i) {
    for (std::size_t j = 0; j < size(); ++j) {
      if (!on_sound(j) || !same_day(i, j)) continue;
      const auto [from, to] = overlap(i, j);
      if (to <= from) continue;
      const auto one = difference(i, j, (from + to) / 2);
      if (!one) continue;
      score_.clock_error_s.push_back(std::abs(one->error_s));
      score_.clock_within_2_sigma += std::abs(one->error_s) <= 2 * one->sigma_s ? 1 : 0;
      if (std::abs(one->error_s) > 4 * one->sigma_s) {
        note(text("clip %zu by its clock: off by %.2f s, sigma %.2f s", i, one->error_s, one->sigma_s));
      }
      return;
    }
  }

  /// Whether another clip hears both sides of a dropout well enough to tell: 60 s and 4 eventful seconds on each.
  std::vector<std::size_t> witnesses(std::size_t i, const TrueDropout& lost) const {
    std::vector<std::size_t> found;
    const double end = lost.true_at_s + lost.length_s;
    for (std::size_t j = 0; j < size(); ++j) {
      if (j == i || !same_day(i, j) || !heard(clip(j))) continue;
      const auto [from, to] = overlap(i, j);
      if (from > lost.true_at_s - 60 || to < end + 60) continue;
      if (eventful_seconds(day(i).events, lost.true_at_s - 60, lost.true_at_s) < 4) continue;
      if (eventful_seconds(day(i).events, end, end + 60) < 4) continue;
      found.push_back(j);
    }
    return found;
  }

  /// The step of clip `k` that tells of this dropout; the clip time is sought in true time.
  const Step* step_for(const std::vector<Step>& steps, std::size_t i, std::size_t k, const TrueDropout& lost,
                       double sign) const {
    const auto [from, to] = doubtful(i, lost);
    for (const Step& step : steps) {
      const double earliest = true_time_of(k, step.earliest_s), latest = true_time_of(k, step.latest_s);
      const bool long_enough = std::abs(sign * step.length_s - lost.length_s) < 0.02 + 0.02 * lost.length_s;
      if (long_enough && latest > from - 10 && earliest < to + 10) return &step;
    }
    return nullptr;
  }

  double true_time_of(std::size_t i, double clip_s) const {
    const SimulatedClip& one = clip(i);
    const TrueStretch* in = &one.stretches.front();
    for (const TrueStretch& stretch : one.stretches) {
      if (clip_s >= stretch.clip_from_s) in = &stretch;
    }
    return one.clock.true_time(in->reading_s + clip_s - in->clip_from_s) - one.hearing_delay_s;
  }

  void dropouts(std::size_t i) {
    const std::vector<Step> steps = steps_of(out(i));
    for (const TrueDropout& lost : clip(i).dropouts) {
      if (lost.stamped || lost.length_s < 0.04 || !on_sound(i)) continue;
      const auto others = witnesses(i, lost);
      if (!others.empty()) seek(i, lost, steps, others);
    }
    for (const Step& step : steps) {
      if (explained(i, step)) continue;
      ++score_.dropouts_invented;
      note(text("clip %zu: step of %.3f s invented at %.1f s", i, step.length_s, step.clip_at_s));
    }
  }

  void seek(std::size_t i, const TrueDropout& lost, const std::vector<Step>& steps,
            const std::vector<std::size_t>& others) {
    ++score_.dropouts;
    if (const Step* step = step_for(steps, i, i, lost, 1)) {
      ++score_.dropouts_found;
      const auto [from, to] = doubtful(i, lost);
      const double at = true_time_of(i, step->clip_at_s);
      if (at >= from && at <= to) {
        ++score_.dropouts_near;
      } else {
        note(text("clip %zu: dropout at %.1f s placed at %.1f s", i, lost.clip_at_s, step->clip_at_s));
      }
      return;
    }
    for (const std::size_t j : others) {
      if (step_for(steps_of(out(j)), i, j, lost, -1) == nullptr) continue;
      ++score_.dropouts_swapped;
      note(text("clip %zu: dropout of %.3f s at %.1f s laid to clip %zu", i, lost.length_s, lost.clip_at_s, j));
      return;
    }
    note(text("clip %zu: dropout of %.3f s at %.1f s not found", i, lost.length_s, lost.clip_at_s));
  }

  /// Whether this step tells of a dropout, of this clip or (with the sign turned) of another.
  bool explained(std::size_t i, const Step& step) const {
    for (std::size_t j = 0; j < size(); ++j) {
      if (!same_day(i, j)) continue;
      for (const TrueDropout& lost : clip(j).dropouts) {
        if (step_for({step}, j, i, lost, i == j ? 1 : -1) != nullptr) return true;
      }
    }
    return false;
  }

  void note(std::string line) { score_.findings.push_back(std::move(line)); }

  const Trial& trial_;
  const sync::LineUp& result_;
  Score score_;
};

template <class Value>
void append(std::vector<Value>& to, const std::vector<Value>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

}  // namespace

Trial make_trial(std::vector<SessionPlan> days) {
  Trial trial;
  for (std::size_t d = 0; d < days.size(); ++d) {
    for (SimulatedClip& clip : simulate(days[d])) {
      trial.day_of.push_back(static_cast<int>(d));
      trial.camera_of.push_back(trial.cameras + clip.plan.camera);
      trial.clips.push_back(std::move(clip));
    }
    trial.cameras += static_cast<int>(days[d].cameras.size());
  }
  trial.days = std::move(days);
  return trial;
}

Score& Score::operator+=(const Score& other) {
  sessions += other.sessions;
  placeable += other.placeable;
  placed += other.placed;
  wrong += other.wrong;
  append(error_ms, other.error_ms);
  append(rate_error_ppm, other.rate_error_ppm);
  instants += other.instants;
  within_1_sigma += other.within_1_sigma;
  within_2_sigma += other.within_2_sigma;
  dropouts += other.dropouts;
  dropouts_found += other.dropouts_found;
  dropouts_near += other.dropouts_near;
  dropouts_swapped += other.dropouts_swapped;
  dropouts_invented += other.dropouts_invented;
  append(clock_error_s, other.clock_error_s);
  clock_within_2_sigma += other.clock_within_2_sigma;
  strangers += other.strangers;
  strangers_paired += other.strangers_paired;
  lone += other.lone;
  lone_placed += other.lone_placed;
  cpu_s += other.cpu_s;
  sound_s += other.sound_s;
  append(findings, other.findings);
  return *this;
}

std::optional<double> placement_difference_s(const Trial& trial, const sync::LineUp& result, std::size_t i,
                                             std::size_t j, double true_s) {
  const auto one = difference(trial, result, i, j, true_s);
  if (!one) return std::nullopt;
  return one->error_s;
}

Score score(const Trial& trial, const sync::LineUp& result) { return Scorer{trial, result}.run(); }

}  // namespace jigtime::bench
