// Benchmark of the detector on simulated sound: how much it finds, how much of what it finds is true, what it costs.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

#include "bench/random.h"
#include "bench/shop_simulator.h"
#include "detect/detect.h"

namespace {

using namespace jigtime;
using namespace jigtime::bench;

constexpr std::size_t confidence_bins = 5;

struct Tally {
  int bursts = 0, bursts_heard = 0;       ///< true ones, and those inside a finding
  int stretches = 0, stretches_true = 0;  ///< findings, and those with a true burst in them
  int counted = 0, counted_of = 0;        ///< bursts by the findings' count, and true ones inside them
  int claps = 0, claps_heard = 0, claps_invented = 0;
  int breaks = 0, breaks_found = 0, breaks_invented = 0;
  double clip_s = 0, cpu_s = 0;
  std::array<int, confidence_bins> said{}, right{};
};

struct Case {
  const char* name;
  double snr_db;
  ShopPlan shop;
};

struct Span {
  double from = 0, to = 0;
  bool touches(const Span& other) const { return from < other.to && other.from < to; }
};

SessionPlan make_plan(const Case& one, std::uint64_t number) {
  Random random{number};
  SessionPlan plan;
  plan.number = number;
  plan.arrival = Arrival::as_far;
  plan.room.decay_s = random.uniform(0.2, 0.8);
  for (int i = 0; i < all_positions; ++i) {
    plan.positions.push_back({random.uniform(0.5, 5.5), random.uniform(0.5, 7.5), random.uniform(0.8, 1.8)});
  }
  plan.length_s = one.shop.length_s;
  plan.events = make_schedule(one.shop, random.bits());
  CameraPlan camera;
  camera.microphone_at = {random.uniform(1, 5), random.uniform(1, 7), 1.5};
  camera.microphone.snr_db = one.snr_db;
  camera.microphone.automatic_gain = random.chance(0.3);
  camera.microphone.loudest = random.chance(0.3) ? 2.0 : 0.5;
  camera.microphone.recorded_at_hz = random.chance(0.2) ? 8000 : 48000;
  plan.cameras.push_back(camera);
  ClipPlan clip;
  clip.end_s = plan.length_s;
  plan.clips.push_back(clip);
  return plan;
}

std::vector<Span> spans_of(const SessionPlan& plan, SoundKind kind) {
  std::vector<Span> spans;
  for (const SoundEvent& event : plan.events) {
    if (event.kind != kind) continue;
    spans.push_back({static_cast<double>(event.begin) / rate_hz, static_cast<double>(event.end()) / rate_hz});
  }
  return spans;
}

/// Five minutes and more between foreground sounds.
std::vector<Span> breaks_of(const SessionPlan& plan) {
  std::vector<Span> spans;
  double last = 0;
  const auto look = [&](double begin) {
    if (begin - last >= 300) spans.push_back({last, begin});
  };
  for (const SoundEvent& event : plan.events) {
    if (!is_foreground(event.kind)) continue;
    look(static_cast<double>(event.begin) / rate_hz);
    last = std::max(last, static_cast<double>(event.end()) / rate_hz);
  }
  look(plan.length_s);
  return spans;
}

std::vector<detect::Finding> detect_in(const SimulatedClip& clip, double& cpu_s) {
  std::vector<float> samples(static_cast<std::size_t>(clip.count()));
  if (const Done done = clip.read(0, samples); !done) return {};
  const std::clock_t before = std::clock();
  detect::Detector detector{clip.origin()};
  for (std::size_t n = 0; n < samples.size(); n += 4096) {
    detector.add(std::span{samples}.subspan(n, std::min<std::size_t>(4096, samples.size() - n)));
  }
  std::vector<detect::Finding> findings = detector.finish();
  cpu_s += static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
  return findings;
}

int touching(const std::vector<Span>& spans, const Span& one) {
  return static_cast<int>(std::count_if(spans.begin(), spans.end(), [&](const Span& s) { return s.touches(one); }));
}

void judge(const SessionPlan& plan, const std::vector<detect::Finding>& findings, Tally& tally) {
  const auto bursts = spans_of(plan, SoundKind::rivet_burst);
  const auto claps = spans_of(plan, SoundKind::three_claps);
  const auto breaks = breaks_of(plan);
  std::vector<Span> riveting, signals, pauses;
  for (const detect::Finding& found : findings) {
    const Span span{to_seconds(found.begin), to_seconds(found.end)};
    const auto& truth = found.kind == detect::Kind::riveting ? bursts
                        : found.kind == detect::Kind::signal ? claps
                                                             : breaks;
    const int true_ones = touching(truth, span);
    const auto bin = std::min(confidence_bins - 1, static_cast<std::size_t>(found.confidence * confidence_bins));
    if (found.kind == detect::Kind::riveting) {
      ++tally.said[bin];
      tally.right[bin] += true_ones > 0 ? 1 : 0;
      ++tally.stretches;
      tally.stretches_true += true_ones > 0 ? 1 : 0;
      tally.counted += found.count;
      tally.counted_of += true_ones;
      riveting.push_back(span);
    } else if (found.kind == detect::Kind::signal) {
      tally.claps_invented += true_ones == 0 ? 1 : 0;
      signals.push_back(span);
    } else {
      tally.breaks_invented += true_ones == 0 ? 1 : 0;
      pauses.push_back(span);
    }
  }
  tally.bursts += static_cast<int>(bursts.size());
  for (const Span& one : bursts) tally.bursts_heard += touching(riveting, one) > 0 ? 1 : 0;
  tally.claps += static_cast<int>(claps.size());
  for (const Span& one : claps) tally.claps_heard += touching(signals, one) > 0 ? 1 : 0;
  tally.breaks += static_cast<int>(breaks.size());
  for (const Span& one : breaks) tally.breaks_found += touching(pauses, one) > 0 ? 1 : 0;
}

double percent(int part, int whole) { return whole > 0 ? 100.0 * part / whole : 0; }

void print(const char* name, const Tally& t) {
  std::printf(
      "%-28s %5.1f h | %5d %5.1f | %5d %5.1f %6.2f | %3d/%3d %3d | %3d/%3d %3d | %6.4f\n", name, t.clip_s / 3600,
      t.bursts, percent(t.bursts_heard, t.bursts), t.stretches, percent(t.stretches_true, t.stretches),
      t.counted_of > 0 ? static_cast<double>(t.counted) / t.counted_of : 0, t.claps_heard, t.claps, t.claps_invented,
      t.breaks_found, t.breaks, t.breaks_invented, t.clip_s > 0 ? 60 * t.cpu_s / t.clip_s : 0);
}

std::vector<Case> all_cases() {
  ShopPlan work;
  work.length_s = 900;
  work.signals = 3;
  ShopPlan no_rivets = work;
  no_rivets.riveting = false;
  ShopPlan with_break = work;
  with_break.length_s = 1500;
  with_break.break_s = 500;
  with_break.background = Background::none;
  ShopPlan compressor = work;
  compressor.background = Background::compressor_all_along;
  ShopPlan only_compressor = compressor;
  only_compressor.work = false;
  only_compressor.signals = 0;
  ShopPlan song = no_rivets;
  song.background = Background::song_all_along;
  ShopPlan machines = only_compressor;
  machines.background = Background::some;
  return {{"work, +20 dB", 20, work},
          {"work, +10 dB", 10, work},
          {"work, 0 dB", 0, work},
          {"work, compressor all along", 15, compressor},
          {"work and a break", 15, with_break},
          {"no riveting", 15, no_rivets},
          {"no riveting, radio", 15, song},
          {"compressor alone", 15, only_compressor},
          {"machines now and then", 15, machines}};
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Runs the detector on simulated sound whose truth is known."};
  int sessions = 3;
  std::uint64_t start = 1;
  std::string row_name;
  app.add_option("--sessions", sessions, "of a quarter of an hour or more, in each row");
  app.add_option("--start", start, "another number draws other sessions");
  app.add_option("--row", row_name, "only the row of this name");
  CLI11_PARSE(app, argc, argv);
  std::printf("%-28s %7s | %11s | %18s | %11s | %11s | %s\n", "", "", "bursts", "riveting findings", "signals",
              "breaks", "CPU s");
  std::printf("%-28s %7s | %5s %5s | %5s %5s %6s | %7s %3s | %7s %3s | %s\n", "", "", "true", "% in", "made", "% ok",
              "count", "found", "inv", "found", "inv", "a min");
  Tally all;
  for (const Case& one : all_cases()) {
    if (!row_name.empty() && row_name != one.name) continue;
    Tally row;
    for (int k = 0; k < sessions; ++k) {
      const SessionPlan plan = make_plan(one, mix(start * 1000 + static_cast<std::uint64_t>(k)));
      const std::vector<SimulatedClip> clips = simulate(plan);
      judge(plan, detect_in(clips[0], row.cpu_s), row);
      row.clip_s += clips[0].length_s();
    }
    print(one.name, row);
    std::fflush(stdout);
    for (std::size_t b = 0; b < confidence_bins; ++b) {
      all.said[b] += row.said[b];
      all.right[b] += row.right[b];
    }
  }
  std::printf("\nriveting findings by confidence:");
  for (std::size_t b = 0; b < confidence_bins; ++b) {
    std::printf("  %.1f-%.1f: %d of %d right", static_cast<double>(b) / confidence_bins,
                static_cast<double>(b + 1) / confidence_bins, all.right[b], all.said[b]);
  }
  std::printf("\n");
  return 0;
}
