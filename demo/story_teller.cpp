#include "demo/story_teller.h"

#include <algorithm>

namespace jigtime::demo {
namespace {

constexpr Point tin{-0.85, 0.3, 0.95};
constexpr Point vice{0.98, -0.05, 1.05};
constexpr Point plans{-0.1, 0.5, 1.2};

}  // namespace

void StoryTeller::set_pins(const Phase& phase) {
  constexpr Seconds pace = 2.5;
  std::vector<int> wanted;
  for (int hole = 0; hole < hole_count; hole += 2) wanted.push_back(hole + (hole / holes_on_rib) % 2);
  const auto in_time = static_cast<std::size_t>((phase.end - phase.begin) / pace);
  const std::size_t before = wanted.size() - std::min(wanted.size(), in_time);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const Point at = hole_at(wanted[i]);
    if (i < before) {  // left in from the evening before
      story_.changes.push_back({-1, wanted[i], HoleState::pinned});
      continue;
    }
    const Seconds t = phase.begin + pace * static_cast<double>(i - before) + dice_.between(0, 0.4);
    if ((i - before) % 3 == 0) sound(SoundKind::tin, t, 0.5, tin, 0.10);
    sound(SoundKind::click, t + 1.2, 0.02, at, 0.12);
    story_.changes.push_back({t + 1.2, wanted[i], HoleState::pinned});
    story_.builder.push_back({t + 0.7, t + 1.7, Tool::pliers, at});
  }
}

void StoryTeller::drill_at(Seconds begin, Seconds length, Point at) {
  sound(SoundKind::drill, begin, length, at, 0.13);
  story_.builder.push_back({begin - 0.2, begin + length + 0.2, Tool::drill, at});
}

void StoryTeller::drill_holes(const Phase& phase) {
  int hole = 1;
  for (Seconds t = phase.begin + 1; t < phase.end - 2.5;) {
    const Seconds length = dice_.between(0.7, 1.5);
    drill_at(t, length, hole_at(hole % hole_count));
    hole += 2;
    t += length + dice_.between(0.9, 1.9);
  }
}

Burst StoryTeller::pull_trigger(Seconds from, double blows_per_second) {
  // A progressive trigger on a slow-hitting gun of 2,000 to 2,500 blows a minute: the rate climbs for a fifth of a
  // second.
  Burst burst;
  burst.begin = from;
  const Seconds length = dice_.between(0.4, 0.9);
  for (Seconds t = 0; t < length;) {
    burst.blows.push_back(static_cast<float>(t));
    const double rate = blows_per_second * std::min(1.0, 0.65 + 0.35 * t / 0.2);
    t += dice_.between(0.96, 1.04) / rate;
  }
  burst.end = from + static_cast<double>(burst.blows.back());
  return burst;
}

bool StoryTeller::helper_holds_bar(Seconds t) const {
  return std::ranges::any_of(scenario_.helper_at_bench, [&](const Stretch& stay) { return stay.holds(t); });
}

Seconds StoryTeller::drive_rivet(int hole, Seconds from) {
  const Point at = hole_at(hole);
  Seconds t = from + dice_.between(0.3, 0.6);
  sound(SoundKind::click, t, 0.02, at, 0.10);
  story_.changes.push_back({t, hole, HoleState::open});
  t += dice_.between(0.3, 0.6);
  sound(SoundKind::tin, t, dice_.between(0.25, 0.5), tin, 0.06);
  t += dice_.between(1.0, 1.6);
  sound(SoundKind::tap, t, 0.03, at, 0.05);
  const Seconds gun_on = t - 0.2;
  Rivet rivet;
  rivet.hole = hole;
  const double rate = dice_.between(33.5, 41.5);
  const int pulls = dice_.whole(2, 3);
  for (int i = 0; i < pulls; ++i) {
    t += dice_.between(0.35, 0.8);
    rivet.bursts.push_back(pull_trigger(t, rate));
    t = rivet.bursts.back().end;
    sound(SoundKind::blows, rivet.bursts.back().begin, t - rivet.bursts.back().begin, at, 0.55);
    story_.sounds.back().blows = rivet.bursts.back().blows;
    story_.lamp.push_back({rivet.bursts.back().begin, t});
  }
  rivet.set_at = t;
  story_.changes.push_back({t, hole, HoleState::rivet});
  story_.builder.push_back({gun_on, t + 0.2, Tool::gun, at});
  // The bar is held from the east end, under the skin, where its edge hides it.
  const Point under_edge{std::max(at.x, 0.62), at.y, skin_height - 0.05};
  if (helper_holds_bar(t)) story_.helper.push_back({gun_on - 0.3, t + 0.4, Tool::bar, under_edge});
  story_.rivets.push_back(std::move(rivet));
  return t + dice_.between(0.6, 1.6);
}

void StoryTeller::drive_rivets(const Phase& phase) {
  constexpr Seconds longest_rivet = 8;
  for (Seconds t = phase.begin; t < phase.end - longest_rivet && next_ < order_.size(); ++next_) {
    t = drive_rivet(order_[next_], t);
    if (next_ % 5 == 4) t += dice_.between(3, 6);  // a look along the row
  }
}

void StoryTeller::study_plans(const Phase& phase) {
  story_.builder.push_back({phase.begin, phase.end, Tool::plans, plans});
}

void StoryTeller::check_heads(const Phase& phase) {
  std::size_t looked_at = 0;
  for (Seconds t = phase.begin + 0.5; t < phase.end - 1.8 && looked_at < next_; ++looked_at) {
    story_.builder.push_back({t, t + 1.2, Tool::mirror, hole_at(order_[looked_at])});
    if (looked_at % 2 == 0) sound(SoundKind::tap, t + 0.2, 0.02, hole_at(order_[looked_at]), 0.04);
    t += 1.7;
  }
}

void StoryTeller::replace_rivet(const Phase& phase) {
  const Rivet& tipped = story_.rivets[story_.rivets.size() * 3 / 5];
  const int hole = tipped.hole;
  story_.drilled_one_set_at = tipped.set_at;
  const Point at = hole_at(hole);
  drill_at(phase.begin + 1.2, 1.6, at);
  story_.drilled_out_at = phase.begin + 3.4;
  sound(SoundKind::tap, story_.drilled_out_at, 0.03, at, 0.20);  // the shank is punched out
  story_.changes.push_back({story_.drilled_out_at, hole, HoleState::open});
  const Seconds done = drive_rivet(hole, phase.begin + 4.2);
  if (done + 2 < phase.end) story_.builder.push_back({done, phase.end - 0.5, Tool::mirror, at});
}

void StoryTeller::brush_off(const Phase& phase) {
  for (Seconds t = phase.begin + 1; t < phase.end - 3; t += dice_.between(2.6, 4.5)) {
    const Point from{dice_.between(-0.55, 0.35), dice_.between(-0.15, 0.15), skin_height};
    for (int stroke = 0; stroke < 3; ++stroke) {
      const Point at = from + Point{0.12 * stroke, 0, 0};
      const Seconds begin = t + 0.6 * stroke;
      sound(SoundKind::brush, begin, 0.4, at, 0.05);
      story_.builder.push_back({begin, begin + 0.45, Tool::brush, at});
    }
  }
}

void StoryTeller::file_brackets() {
  const Stretch when = scenario_.helper_at_vice;
  for (Seconds t = when.begin + 0.5; t < when.end - 4; t += dice_.between(1.5, 4)) {
    for (int stroke = dice_.whole(3, 7); stroke > 0 && t < when.end - 1; --stroke) {
      sound(SoundKind::file, t, 0.35, vice, 0.07);
      story_.helper.push_back({t, t + 0.4, Tool::file, vice});
      t += dice_.between(0.52, 0.66);
    }
  }
}

}  // namespace jigtime::demo
