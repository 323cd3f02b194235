#include "bench/delay_bound.h"

#include <cmath>
#include <numbers>

#include "bench/random.h"

namespace jigtime::bench {

double delay_bound_s(double seconds, double signal_to_noise, double from_hz, double to_hz) {
  const double coherent = signal_to_noise * signal_to_noise / (1 + 2 * signal_to_noise);
  const double turn = 2 * std::numbers::pi;
  const double integral = turn * turn * (std::pow(to_hz, 3) - std::pow(from_hz, 3)) / 3 * coherent;
  return 1 / std::sqrt(2 * seconds * integral);
}

SessionPlan white_noise_session(double snr_db, std::uint64_t number) {
  Random random{number};
  SessionPlan plan;
  plan.number = number;
  plan.room.decay_s = 0;
  plan.positions = {{3, 4, 1}};
  plan.length_s = 92;
  for (double t = 0.5; t < plan.length_s - 1; t += random.uniform(0.8, 1.6)) {
    plan.events.push_back({SoundKind::white_noise, random.bits(), std::llround(t * rate_hz), rate_hz / 2, 0, 1.0F});
  }
  for (int i = 0; i < 2; ++i) {
    CameraPlan camera;
    camera.microphone_at = {2.0 + i, 4, 1};
    camera.microphone.snr_db = snr_db;
    camera.microphone.white_noise_only = true;
    plan.cameras.push_back(camera);
    ClipPlan clip;
    clip.camera = i;
    clip.begin_s = 1 + i * random.uniform(5, 15);
    clip.end_s = plan.length_s - 1 - (1 - i) * random.uniform(5, 15);
    plan.clips.push_back(clip);
  }
  return plan;
}

double white_noise_seconds(const SessionPlan& plan) {
  double sum = 0;
  for (const SoundEvent& event : plan.events) {
    const double begin = static_cast<double>(event.begin) / rate_hz;
    if (begin < plan.clips[1].begin_s || begin > plan.clips[0].end_s) continue;
    sum += static_cast<double>(event.length) / rate_hz;
  }
  return sum;
}

}  // namespace jigtime::bench
