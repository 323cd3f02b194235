#include "demo/story.h"

#include <algorithm>

#include "demo/story_teller.h"

namespace jigtime::demo {
namespace {

constexpr std::uint64_t story_seed = 20'260'314;
constexpr Point builder_door{-2.9, 1.6, 1.0};
constexpr Point helper_door{2.9, -1.6, 1.0};
constexpr Point fan_place{-2.9, 0.1, 1.60};
constexpr Point compressor_place{2.5, 2.2, 0.4};
constexpr Point builder_mouth{0.05, 0.8, 1.56};
constexpr Point helper_mouth{1.28, -0.12, 1.6};

/// From the middle rib outwards, so that the skin is not pushed ahead of the gun.
std::vector<int> riveting_order() {
  std::vector<int> order;
  for (const int rib : {3, 2, 4, 1, 5, 0, 6}) {
    for (int i = 0; i < holes_on_rib; ++i) order.push_back(rib * holes_on_rib + i);
  }
  return order;
}

/// Mean pause between two phrases.
Seconds pause_between_phrases(Activity activity) {
  switch (activity) {
    case Activity::arrive:
    case Activity::leave: return 0.9;
    case Activity::check:
    case Activity::tidy: return 3.5;
    case Activity::pin:
    case Activity::replace: return 6;
    case Activity::drill:
    case Activity::rivet: return 9;
    case Activity::study:
    case Activity::away: return 0;
  }
  return 0;
}

}  // namespace

Point hole_at(int hole) {
  const int rib = hole / holes_on_rib;
  const int row = hole % holes_on_rib;
  return {0.17 * (rib - (ribs - 1) / 2.0), 0.085 * (row - (holes_on_rib - 1) / 2.0), skin_height};
}

int Story::set_within(Seconds from, Seconds to) const {
  return static_cast<int>(
      std::ranges::count_if(rivets, [&](const Rivet& rivet) { return from <= rivet.set_at && rivet.set_at < to; }));
}

int Story::drilled_within(Seconds from, Seconds to) const {
  return from <= drilled_one_set_at && drilled_one_set_at < to ? 1 : 0;
}

StoryTeller::StoryTeller(const Scenario& scenario) : scenario_{scenario}, dice_{story_seed}, order_{riveting_order()} {}

Story StoryTeller::finish() {
  walk_in_and_out();
  for (const Phase& phase : scenario_.phases) {
    work(phase);
    talk(phase);
    put_tools_down(phase);
  }
  file_brackets();
  steady_noise(SoundKind::fan, {-2, scenario_.length + 2}, fan_place, 0.012);
  steady_noise(SoundKind::compressor, scenario_.compressor, compressor_place, 0.09);
  std::ranges::stable_sort(story_.sounds, {}, &SoundEvent::begin);
  std::ranges::stable_sort(story_.changes, {}, &HoleChange::at);
  std::ranges::stable_sort(story_.helper, {}, &Act::begin);
  return std::move(story_);
}

void StoryTeller::work(const Phase& phase) {
  switch (phase.activity) {
    case Activity::pin: return set_pins(phase);
    case Activity::drill: return drill_holes(phase);
    case Activity::rivet: return drive_rivets(phase);
    case Activity::study: return study_plans(phase);
    case Activity::check: return check_heads(phase);
    case Activity::replace: return replace_rivet(phase);
    case Activity::tidy: return brush_off(phase);
    case Activity::arrive:
    case Activity::away:
    case Activity::leave: return;
  }
}

void StoryTeller::walk_in_and_out() {
  const Seconds tea = scenario_.scaled(405);
  const Seconds back = scenario_.scaled(540);
  story_.builder_in = {{1.2, tea}, {back, scenario_.length - 1.5}};
  story_.helper_in = {
      {scenario_.scaled(150), scenario_.scaled(255)}, {scenario_.scaled(270), tea}, {back, scenario_.length - 2.0}};
  const auto slam = [&](const std::vector<Stretch>& stays, Point door) {
    for (const Stretch& stay : stays) {
      sound(SoundKind::door, stay.begin + dice_.between(0, 0.3), 0.1, door, 0.25);
      sound(SoundKind::door, stay.end - dice_.between(0.4, 0.8), 0.1, door, 0.25);
    }
  };
  slam(story_.builder_in, builder_door);
  slam(story_.helper_in, helper_door);
}

void StoryTeller::talk(const Phase& phase) {
  speak(phase, story_.builder_in, builder_mouth, 1.0, story_.builder_talks);
  speak(phase, story_.helper_in, helper_mouth, 0.6, story_.helper_talks);
}

void StoryTeller::speak(const Phase& phase, const std::vector<Stretch>& present, Point mouth, double pitch,
                        std::vector<Stretch>& spoken) {
  const Seconds pause = pause_between_phrases(phase.activity);
  if (pause <= 0) return;
  for (Seconds t = phase.begin + dice_.between(0.3, 1.5); t < phase.end - 0.8;) {
    const Seconds length = std::min(dice_.between(0.8, 2.6), phase.end - t);
    const auto is_there = [&](const Stretch& stay) { return stay.holds(t) && stay.holds(t + length); };
    if (std::ranges::any_of(present, is_there)) {
      sound(SoundKind::words, t, length, mouth, 0.09);
      story_.sounds.back().pitch = pitch * dice_.between(0.95, 1.06);
      spoken.push_back({t, t + length});
    }
    t += length + pause * dice_.between(0.4, 1.6);
  }
}

void StoryTeller::put_tools_down(const Phase& phase) {
  if (phase.activity == Activity::away || phase.activity == Activity::study) return;
  for (Seconds t = phase.begin + dice_.between(1, 5); t < phase.end - 1; t += dice_.between(4, 12)) {
    const Point at{dice_.between(-0.9, 0.9), dice_.between(-0.35, 0.35), 0.9};
    sound(SoundKind::tap, t, 0.05, at, dice_.between(0.06, 0.22));
  }
}

void StoryTeller::steady_noise(SoundKind kind, Stretch when, Point at, double level) {
  constexpr Seconds hop = 1.0;  // each piece overlaps its neighbours by half
  for (Seconds t = when.begin; t + 2 * hop <= when.end + 0.5 * hop; t += hop) sound(kind, t, 2 * hop, at, level);
}

void StoryTeller::sound(SoundKind kind, Seconds begin, Seconds length, Point at, double level) {
  SoundEvent event;
  event.kind = kind;
  event.begin = begin;
  event.length = length;
  event.at = at;
  event.level = level;
  event.seed = dice_.next();
  story_.sounds.push_back(std::move(event));
}

Story tell(const Scenario& scenario) { return StoryTeller{scenario}.finish(); }

}  // namespace jigtime::demo
