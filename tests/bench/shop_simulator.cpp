#include "bench/shop_simulator.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "bench/clip_sampler.h"
#include "bench/shop_player.h"

namespace jigtime::bench {
namespace {

double mean_delay_s(const SessionPlan& plan, const CameraPlan& camera) {
  if (plan.arrival == Arrival::in_step) return 0;
  double sum = 0;
  int count = 0;
  for (const SoundEvent& event : plan.events) {
    if (!is_foreground(event.kind)) continue;
    const Place& from = plan.positions[static_cast<std::size_t>(event.position)];
    sum += std::max(0.2, distance_m(from, camera.microphone_at)) / speed_of_sound_m_s;
    ++count;
  }
  return count > 0 ? sum / count : 0;
}

void lay_out(SimulatedClip& clip) {
  const ClipPlan& plan = clip.plan;
  double clip_s = 0;
  double begin_s = plan.begin_s;
  for (const Dropout& lost : plan.dropouts) {
    const double reading_s = clip.clock.reading(begin_s);
    const double length_s = clip.clock.reading(lost.at_s) - reading_s;
    clip.stretches.push_back({clip_s, clip_s + length_s, reading_s});
    clip.dropouts.push_back({clip_s + length_s, lost.at_s, lost.length_s, lost.stamped});
    begin_s = lost.at_s + lost.length_s;
    clip_s += length_s;
    if (lost.stamped) clip_s += clip.clock.reading(begin_s) - clip.clock.reading(lost.at_s);
  }
  const double reading_s = clip.clock.reading(begin_s);
  clip.stretches.push_back({clip_s, clip_s + clip.clock.reading(plan.end_s) - reading_s, reading_s});
}

/// Mean power of the moments of this clip in which a foreground sound is being made.
double active_power(const SimulatedClip& clip, const std::vector<SoundEvent>& events,
                    const std::vector<float>& samples) {
  double sum = 0;
  double count = 0;
  for (const SoundEvent& event : events) {
    if (!is_foreground(event.kind)) continue;
    const auto at = clip.clip_time_of(static_cast<double>(event.begin) / rate_hz);
    if (!at) continue;
    const auto first = static_cast<std::int64_t>((*at - clip.plan.sound_starts_s) * rate_hz);
    const std::int64_t end = std::min(std::ssize(samples), first + std::min<std::int64_t>(event.length, 60 * rate_hz));
    for (std::int64_t n = std::max<std::int64_t>(0, first); n < end; ++n) {
      const double x = samples[static_cast<std::size_t>(n)];
      sum += x * x;
      count += 1;
    }
  }
  return count > 0 ? sum / count : 0;
}

std::vector<SimulatedClip> lay_out_all(const SessionPlan& plan) {
  std::vector<SimulatedClip> clips(plan.clips.size());
  for (std::size_t i = 0; i < clips.size(); ++i) {
    clips[i].plan = plan.clips[i];
    const CameraPlan& camera = plan.cameras[static_cast<std::size_t>(clips[i].plan.camera)];
    clips[i].clock = camera.clock;
    clips[i].hearing_delay_s = mean_delay_s(plan, camera);
    lay_out(clips[i]);
  }
  return clips;
}

}  // namespace

Done SimulatedClip::read(std::int64_t first, std::span<float> out) const {
  for (std::size_t i = 0; i < out.size(); ++i) {
    const std::int64_t n = first + static_cast<std::int64_t>(i);
    const bool inside = n >= 0 && n < count();
    out[i] = inside ? static_cast<float>(samples[static_cast<std::size_t>(n)]) / 32768.0F : 0.0F;
  }
  return {};
}

std::optional<double> SimulatedClip::clip_time_of(double true_s) const {
  const double reading_s = clock.reading(true_s + hearing_delay_s);
  for (const TrueStretch& stretch : stretches) {
    const double in_s = reading_s - stretch.reading_s;
    if (in_s >= 0 && in_s < stretch.clip_to_s - stretch.clip_from_s) return stretch.clip_from_s + in_s;
  }
  return std::nullopt;
}

std::vector<SimulatedClip> simulate(const SessionPlan& plan) {
  std::vector<SimulatedClip> clips = lay_out_all(plan);
  std::vector<ClipSampler> samplers;
  for (const SimulatedClip& clip : clips) samplers.emplace_back(clip);
  ShopPlayer player{plan};
  while (!player.finished()) {
    player.play_block();
    for (std::size_t i = 0; i < clips.size(); ++i) {
      if (!clips[i].plan.has_sound || clips[i].plan.muted) continue;
      samplers[i].hear(player.block_begin(), player.heard_by(clips[i].plan.camera));
    }
  }
  for (std::size_t i = 0; i < clips.size(); ++i) {
    if (!clips[i].plan.has_sound) continue;
    std::vector<float> heard = samplers[i].take();
    if (!clips[i].plan.muted) {
      record(plan.cameras[static_cast<std::size_t>(clips[i].plan.camera)].microphone,
             active_power(clips[i], plan.events, heard), mix(plan.number) ^ (77 + i), heard);
      samplers[i].silence_gaps(heard);
    }
    clips[i].samples = to_16_bit(heard);
  }
  return clips;
}

}  // namespace jigtime::bench
