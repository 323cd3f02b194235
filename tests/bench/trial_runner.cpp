#include "bench/trial_runner.h"

#include <ctime>
#include <future>
#include <utility>

namespace jigtime::bench {
namespace {

double cpu_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

sync::Features features_of(const SimulatedClip& clip) {
  sync::FeatureMaker maker{clip.origin()};
  std::vector<float> block(8192);
  for (std::int64_t n = 0; n < clip.count(); n += std::ssize(block)) {
    const auto size = static_cast<std::size_t>(std::min<std::int64_t>(std::ssize(block), clip.count() - n));
    const std::span<float> part{block.data(), size};
    if (const Done done = clip.read(n, part); !done) break;
    maker.add(part);
  }
  return maker.finish();
}

std::vector<sync::Features> all_features(const std::vector<SimulatedClip>& clips) {
  std::vector<sync::Features> features(clips.size());
  const auto every_other = [&](std::size_t first) {
    for (std::size_t i = first; i < clips.size(); i += 2) {
      if (clips[i].plan.has_sound) features[i] = features_of(clips[i]);
    }
  };
  auto odd = std::async(std::launch::async, every_other, std::size_t{1});
  every_other(0);
  odd.get();
  return features;
}

sync::ClipInput input_of(const Trial& trial, std::size_t i, const sync::Features& features) {
  const SimulatedClip& clip = trial.clips[i];
  sync::ClipInput input;
  input.camera = trial.camera_of[i];
  int before = 0;
  for (std::size_t k = 0; k < trial.clips.size(); ++k) {
    before += trial.camera_of[k] == input.camera && trial.clips[k].plan.begin_s < clip.plan.begin_s ? 1 : 0;
  }
  input.number = before;
  input.length = from_seconds(clip.length_s());
  input.clocks = clip.plan.clocks;
  for (std::size_t k = 0; k < clip.dropouts.size(); ++k) {
    if (!clip.dropouts[k].stamped) continue;
    const auto range = ClipRange::make(ClipTime{from_seconds(clip.stretches[k].clip_to_s)},
                                       ClipTime{from_seconds(clip.stretches[k + 1].clip_from_s)});
    if (range) input.missing.push_back(*range);
  }
  if (clip.plan.has_sound) {
    input.features = &features;
    input.sound = &clip;
  }
  return input;
}

}  // namespace

Result<Run> run(const Trial& trial) {
  const double begin = cpu_seconds();
  const std::vector<sync::Features> features = all_features(trial.clips);
  std::vector<sync::ClipInput> inputs;
  for (std::size_t i = 0; i < trial.clips.size(); ++i) inputs.push_back(input_of(trial, i, features[i]));
  Result<sync::LineUp> result = sync::line_up(inputs, trial.cameras, {}, sync::Watch{});
  if (!result) return result.error();
  return Run{*std::move(result), cpu_seconds() - begin};
}

}  // namespace jigtime::bench
