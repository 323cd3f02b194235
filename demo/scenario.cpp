#include "demo/scenario.h"

namespace jigtime::demo {
namespace {

using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

/// Times of the table are multiples of 15 s, so that the quick session's tags fall on whole seconds too.
constexpr Seconds full_length = 900;
constexpr double quick_share = 4.0 / 15;

std::vector<Phase> full_phases() {
  return {{0, 15, Activity::arrive},     {15, 90, Activity::pin},     {90, 165, Activity::drill},
          {165, 255, Activity::rivet},   {255, 270, Activity::study}, {270, 405, Activity::rivet},
          {405, 540, Activity::away},    {540, 690, Activity::rivet}, {690, 750, Activity::check},
          {750, 795, Activity::replace}, {795, 885, Activity::tidy},  {885, 900, Activity::leave}};
}

CameraPlan bench_camera() {
  CameraPlan plan;
  plan.name = "bench";
  plan.at = {0.1, -2.2, 2.2};
  plan.looks_at = {0.1, 0.25, 1.12};
  plan.field_degrees = 68;
  plan.clock_at = {0.17, 0.30};
  plan.tint = {1.03, 1.0, 0.95};
  plan.rate_ppm = 18;
  plan.container = "mp4";
  plan.picture_codec = "libx264";
  plan.sound_codec = "aac";
  plan.rate_num = 25;
  plan.picture_bits_per_second = 250'000;
  plan.channels = 2;
  plan.sound_bits_per_second = 96'000;
  plan.microphone = {2.0, 0.0012, 13'000, 0.5};
  return plan;
}

CameraPlan overhead_camera() {
  CameraPlan plan;
  plan.name = "overhead";
  plan.at = {-1.75, -1.25, 2.2};
  plan.looks_at = {0.05, 0.12, 1.16};
  plan.field_degrees = 56;
  plan.clock_at = {0.53, 0.20};
  plan.tint = {0.93, 1.0, 1.06};
  plan.rate_ppm = -31.5;
  plan.container = "mov";
  plan.picture_codec = "libx264";
  plan.sound_codec = "pcm_s16le";
  plan.rate_num = 30'000;
  plan.rate_den = 1001;
  plan.picture_bits_per_second = 250'000;
  plan.sample_rate_hz = 44'100;
  plan.microphone = {1.8, 0.0025, 9'000, 0.35};
  return plan;
}

CameraPlan side_camera() {
  CameraPlan plan;
  plan.name = "side";
  plan.at = {1.65, 1.4, 2.25};
  plan.looks_at = {0.08, -0.08, 1.12};
  plan.field_degrees = 70;
  plan.clock_at = {0.45, 0.20};
  plan.tint = {0.97, 1.02, 0.92};
  plan.rate_ppm = 52;
  plan.container = "matroska";
  plan.picture_codec = "mpeg4";
  plan.sound_codec = "libmp3lame";
  plan.rate_num = 24;
  plan.picture_bits_per_second = 250'000;
  plan.sample_rate_hz = 32'000;
  plan.sound_bits_per_second = 64'000;
  plan.microphone = {2.4, 0.0030, 11'000, 0.8};
  return plan;
}

/// The bench camera's clock is good, but for a few seconds.
void add_bench(Scenario& scenario) {
  const auto at = [&](Seconds full) { return scenario.scaled(full); };
  RecordingPlan main;
  main.camera = 0;
  main.first_number = 41;
  main.begin = 0;
  main.end = at(795);
  main.splits = {at(262.3), at(531.5)};
  main.clock_error = milliseconds{3'400};
  RecordingPlan broken = main;
  broken.first_number = 44;
  broken.begin = at(803.2);
  broken.end = at(897);
  broken.splits.clear();
  broken.ending = Ending::cut_off;
  scenario.recordings.insert(scenario.recordings.end(), {main, broken});
}

/// The overhead camera overheats, comes back, and loses twelve pictures: 0.4004 s.
void add_overhead(Scenario& scenario) {
  const auto at = [&](Seconds full) { return scenario.scaled(full); };
  RecordingPlan first;
  first.camera = 1;
  first.first_number = 107;
  first.begin = at(21.437);
  first.end = at(308.2);
  first.clock_error = hours{1} - milliseconds{7'250};
  RecordingPlan second = first;
  second.first_number = 108;
  second.begin = at(547.391);
  second.end = at(718.6);
  second.lost = Lost{at(61.7), 12};
  RecordingPlan third = first;
  third.first_number = 109;
  third.begin = at(741.083);
  third.end = at(895.9);
  scenario.recordings.insert(scenario.recordings.end(), {first, second, third});
}

/// The side camera loses its date with its power, and one clip has no sound.
void add_side(Scenario& scenario) {
  const auto at = [&](Seconds full) { return scenario.scaled(full); };
  RecordingPlan first;
  first.camera = 2;
  first.first_number = 1;
  first.begin = at(38.719);
  first.end = at(399.4);
  first.clock_error = -(minutes{2} + milliseconds{11'600});

  constexpr WallTime factory_date{std::chrono::sys_days{std::chrono::year{2015} / 1 / 1}};
  const WallTime restart = scenario.zero + from_seconds(at(523));
  RecordingPlan second = first;
  second.first_number = 2;
  second.begin = at(532.853);
  second.end = at(672.3);
  second.clock_error = factory_date - restart;
  RecordingPlan silent = second;
  silent.first_number = 3;
  silent.begin = at(690.127);
  silent.end = at(742.8);
  silent.sound = SoundTrack::missing;
  RecordingPlan last = second;
  last.first_number = 4;
  last.begin = at(757.611);
  last.end = at(899.2);
  scenario.recordings.insert(scenario.recordings.end(), {first, second, silent, last});
}

}  // namespace

const Phase& Scenario::phase_at(Seconds t) const {
  for (const Phase& phase : phases) {
    if (t < phase.end) return phase;
  }
  return phases.back();
}

Seconds Scenario::scaled(Seconds full) const { return size == Size::full ? full : full * quick_share; }

Scenario make_scenario(Size size) {
  Scenario scenario;
  scenario.size = size;
  const auto stretch = [&](Seconds begin, Seconds end) {
    return Stretch{scenario.scaled(begin), scenario.scaled(end)};
  };
  scenario.length = scenario.scaled(full_length);
  using namespace std::chrono;
  scenario.zero = WallTime{sys_days{year{2026} / 3 / 14} + hours{9} + minutes{12} + seconds{7}};
  for (const Phase& phase : full_phases()) {
    scenario.phases.push_back({scenario.scaled(phase.begin), scenario.scaled(phase.end), phase.activity});
  }
  scenario.helper_at_bench = {stretch(150, 255), stretch(270, 405), stretch(540, 615), stretch(660, 885)};
  scenario.helper_at_vice = stretch(615, 660);
  scenario.compressor = stretch(562, 622);
  scenario.cameras = {bench_camera(), overhead_camera(), side_camera()};
  add_bench(scenario);
  add_overhead(scenario);
  add_side(scenario);
  return scenario;
}

}  // namespace jigtime::demo
