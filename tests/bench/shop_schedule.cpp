#include "bench/shop_schedule.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace jigtime::bench {
namespace {

class Scheduler {
 public:
  Scheduler(const ShopPlan& plan, std::uint64_t number) : plan_{plan}, random_{number} {}

  std::vector<SoundEvent> make() {
    if (plan_.work) fill_with_work();
    take_break();
    add_signals();
    add_background();
    add_repeats();
    std::sort(events_.begin(), events_.end(),
              [](const SoundEvent& a, const SoundEvent& b) { return a.begin < b.begin; });
    return std::move(events_);
  }

 private:
  void fill_with_work() {
    double t = random_.uniform(0, 3);
    while (t < plan_.length_s) {
      const double kind = random_.uniform();
      const double until = std::min(plan_.length_s, t + random_.log_uniform(8, 120));
      if (kind < 0.4 && plan_.riveting) {
        t = rivet(t, until);
      } else if (kind < 0.65) {
        t = repeat(SoundKind::clatter, t, until, {0.3, 6}, 0.5);
      } else if (kind < 0.88) {
        t = repeat(SoundKind::phrase, t, until, {0.3, 4}, 0.3);
      } else {
        t = repeat(random_.chance(0.5) ? SoundKind::drill : SoundKind::hand_hammer, t, until, {1, 8}, 0.6);
      }
      if (random_.chance(0.4)) t += random_.uniform(2, 15);
      if (random_.chance(0.15)) t += random_.uniform(0.3, 1) * plan_.longest_silence_s;
    }
  }

  /// Rivet after rivet, each of one to four bursts, moving along the work.
  double rivet(double t, double until) {
    int position = work_position();
    while (t < until) {
      for (int bursts = 1 + random_.below(4); bursts > 0; --bursts) {
        t = add(SoundKind::rivet_burst, t, position, 1.0) + random_.uniform(0.25, 1.2);
      }
      t += random_.uniform(2, 10);
      if (random_.chance(0.3)) position = work_position();
    }
    return t;
  }

  double repeat(SoundKind kind, double t, double until, std::pair<double, double> gap_s, double level) {
    const int position = work_position();
    while (t < until) {
      t = add(kind, t, random_.chance(0.2) ? work_position() : position, level * random_.uniform(0.5, 1.2));
      t += random_.uniform(gap_s.first, gap_s.second);
    }
    return t;
  }

  void clear(double from, double to) {
    std::erase_if(events_, [&](const SoundEvent& event) {
      return event.end() > std::llround(from * rate_hz) && event.begin < std::llround(to * rate_hz);
    });
  }

  void take_break() {
    if (plan_.break_s <= 0) return;
    const double from = random_.uniform(0.2, 0.8) * (plan_.length_s - plan_.break_s);
    clear(from, from + plan_.break_s);
  }

  void add_signals() {
    for (int left = plan_.signals; left > 0; --left) {
      const double at = random_.uniform(5, plan_.length_s - 5);
      clear(at - 1.5, at + 4);
      add(SoundKind::three_claps, at, work_position(), 0.7);
    }
  }

  void add_background() {
    if (plan_.background == Background::none) return;
    const std::uint64_t compressor = plan_.compressor != 0 ? plan_.compressor : random_.bits();
    const std::uint64_t song = plan_.song != 0 ? plan_.song : random_.bits();
    if (plan_.background == Background::compressor_all_along) {
      const double before = random_.uniform(0, 100);
      add_steady(SoundKind::compressor, compressor, -before, before + plan_.length_s, compressor_position, 0.7);
    } else {
      for (double t = random_.uniform(20, 200); t < plan_.length_s; t += random_.uniform(120, 500)) {
        add_steady(SoundKind::compressor, compressor, t, random_.uniform(30, 120), compressor_position, 0.3);
      }
    }
    if (plan_.background == Background::song_all_along) {
      add_steady(SoundKind::song, song, random_.uniform(0, 0.3) * plan_.length_s, 0.4 * plan_.length_s, radio_position,
                 0.4);
    } else if (random_.chance(0.3)) {
      const double at = random_.uniform(0, plan_.length_s);
      add_steady(SoundKind::song, song, at, random_.uniform(60, 150), radio_position, 0.12);
    }
    if (random_.chance(0.4)) add_steady(SoundKind::fan, random_.bits(), 0, plan_.length_s, fan_position, 0.05);
  }

  void add_repeats() {
    if (plan_.repeats == Repeats::none) return;
    const bool song = plan_.repeats == Repeats::song_twice;
    const std::uint64_t what = song && plan_.song != 0 ? plan_.song : random_.bits();
    const SoundKind kind = song ? SoundKind::song : SoundKind::phrase;
    const double length_s = song ? std::min(90.0, 0.3 * plan_.length_s) : 3.5;
    const double first = random_.uniform(0, 0.45 * plan_.length_s - length_s);
    const double second = random_.uniform(0.5 * plan_.length_s, plan_.length_s - length_s);
    for (const double at : {first, second}) {
      add_steady(kind, what, std::max(0.0, at), length_s, song ? radio_position : first_work_position, 0.3);
    }
  }

  double add(SoundKind kind, double t, int position, double level) {
    const std::uint64_t number = random_.bits();
    const SoundEvent event{
        kind, number, std::llround(t * rate_hz), natural_length(kind, number), position, static_cast<float>(level)};
    events_.push_back(event);
    return static_cast<double>(event.end()) / rate_hz;
  }

  void add_steady(SoundKind kind, std::uint64_t number, double t, double length_s, int position, double level) {
    events_.push_back({kind, number, std::llround(t * rate_hz), std::llround(length_s * rate_hz), position,
                       static_cast<float>(level)});
  }

  int work_position() { return first_work_position + random_.below(work_positions); }

  ShopPlan plan_;
  Random random_;
  std::vector<SoundEvent> events_;
};

}  // namespace

std::vector<SoundEvent> make_schedule(const ShopPlan& plan, std::uint64_t number) {
  return Scheduler{plan, number}.make();
}

int eventful_seconds(const std::vector<SoundEvent>& events, double from_s, double to_s) {
  std::set<std::int64_t> seconds;
  for (const SoundEvent& event : events) {
    const double at = static_cast<double>(event.begin) / rate_hz;
    if (is_foreground(event.kind) && at >= from_s && at < to_s) seconds.insert(std::llround(std::floor(at)));
  }
  return static_cast<int>(seconds.size());
}

}  // namespace jigtime::bench
