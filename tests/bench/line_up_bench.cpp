// Benchmark of the line-up on simulated sessions: bench_line_up --help
#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdio>
#include <map>
#include <optional>
#include <string>

#include "bench/delay_bound.h"
#include "bench/random.h"
#include "bench/scenes.h"
#include "bench/score_table.h"
#include "bench/trial_runner.h"

namespace {

using namespace jigtime;
using namespace jigtime::bench;

struct Options {
  int sessions = 38;
  int stranger_pairs = 90;
  int white_noise = 4;
  std::uint64_t start = 1;
  std::string kind, alike;
  std::uint64_t only = 0;
  std::optional<double> snr_db;
  std::optional<double> overlap_s;
  bool quiet = false;
};

std::string name_of(const Cell& cell) {
  const std::string_view scene = to_text(cell.scene);
  char name[80];
  if (cell.scene == Scene::unrelated || cell.scene == Scene::impostors) return std::string{scene};
  if (cell.overlap_s > 0) {
    std::snprintf(name, sizeof name, "%.*s %.0f dB %.0f s", static_cast<int>(scene.size()), scene.data(), cell.snr_db,
                  cell.overlap_s);
  } else {
    std::snprintf(name, sizeof name, "%.*s %.0f dB", static_cast<int>(scene.size()), scene.data(), cell.snr_db);
  }
  return name;
}

void tell(const Cell& cell, std::uint64_t number, const std::vector<std::string>& findings) {
  for (const std::string& line : findings) {
    std::fprintf(stderr, "--kind %s --snr %.0f --overlap %.0f --only %llu: %s\n",
                 std::string{to_text(cell.scene)}.c_str(), cell.snr_db, cell.overlap_s,
                 static_cast<unsigned long long>(number), line.c_str());
  }
}

Score run_one(const Cell& cell, std::uint64_t number, const Options& options) {
  const Trial trial = make_trial(draw(cell, number));
  const Result<Run> ran = run(trial);
  if (!ran) {
    tell(cell, number, {"failed: " + ran.error().message()});
    return {};
  }
  Score score = bench::score(trial, ran->result);
  score.cpu_s = ran->cpu_s;
  if (!options.quiet) tell(cell, number, score.findings);
  return score;
}

/// The numbers of a row's sessions depend on the row and the start alone, so that any one can be run again.
std::uint64_t number_of(const Options& options, const Cell& cell, int index) {
  const auto what = static_cast<std::uint64_t>(cell.scene) * 1000 + static_cast<std::uint64_t>(cell.snr_db + 50) * 13 +
                    static_cast<std::uint64_t>(cell.overlap_s) * 7919;
  return mix(options.start * 1'000'003 + what * 101 + static_cast<std::uint64_t>(index)) >> 20;
}

Score run_sessions(const Options& options) {
  std::vector<Cell> cells = all_cells();
  if (!options.kind.empty()) {
    std::erase_if(cells, [&](const Cell& cell) { return to_text(cell.scene) != options.kind; });
  }
  std::erase_if(cells, [&](const Cell& cell) {
    return cell.snr_db != options.snr_db.value_or(cell.snr_db) ||
           cell.overlap_s != options.overlap_s.value_or(cell.overlap_s);
  });
  if (cells.empty()) std::fprintf(stderr, "No row is of that kind, --snr and --overlap: leave one of them out.\n");
  Score all;
  print_head(stdout);
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const auto before = static_cast<std::size_t>(options.sessions) * c / cells.size();
    const auto after = static_cast<std::size_t>(options.sessions) * (c + 1) / cells.size();
    Score row;
    for (std::size_t k = before; k < after; ++k) {
      row += run_one(cells[c], number_of(options, cells[c], static_cast<int>(k - before)), options);
    }
    if (row.sessions > 0) print_row(stdout, name_of(cells[c]), row);
    std::fflush(stdout);
    all += row;
  }
  return all;
}

/// Every trial of unrelated clips holds 15 pairs that do not belong together, one with impostors 4.
Score run_strangers(const Options& options) {
  std::map<Likeness, Score> rows;
  int pairs = 0;
  for (int k = 0; pairs < options.stranger_pairs; ++k) {
    const Cell cell{k % 3 == 2 ? Scene::impostors : Scene::unrelated, 0, 0};
    const std::uint64_t number = number_of(options, cell, k);
    if (!options.alike.empty() && to_text(likeness_of(number)) != options.alike) continue;
    const Score one = run_one(cell, number, options);
    if (one.sessions == 0) break;
    pairs += one.strangers;
    rows[likeness_of(number)] += one;
  }
  std::printf("\n%-26s %8s %8s %15s %15s\n", "of different days, alike by", "pairs", "paired", "clips alone",
              "placed on sound");
  Score all;
  for (const auto& [likeness, row] : rows) {
    std::printf("%-26s %8d %8d %15d %15d\n", std::string{to_text(likeness)}.c_str(), row.strangers,
                row.strangers_paired, row.lone, row.lone_placed);
    all += row;
  }
  return all;
}

void run_white_noise(const Options& options) {
  std::printf(
      "\nbursts of white noise, error at the middle of the overlap against the Cramer-Rao bound for the delay\n");
  std::printf("%8s %7s %8s %12s %12s %8s\n", "SNR dB", "trials", "placed", "rms us", "bound us", "ratio");
  for (const double snr_db : {20.0, 10.0, 0.0, -10.0}) {
    double squares = 0;
    double bounds = 0;
    int placed = 0;
    for (int k = 0; k < options.white_noise; ++k) {
      const SessionPlan plan = white_noise_session(snr_db, mix(options.start + static_cast<std::uint64_t>(k)));
      const Trial trial = make_trial({plan});
      const Result<Run> ran = run(trial);
      if (!ran) continue;
      const double middle_s = (plan.clips[1].begin_s + plan.clips[0].end_s) / 2;
      const auto error_s = placement_difference_s(trial, ran->result, 0, 1, middle_s);
      if (!error_s) continue;
      ++placed;
      squares += *error_s * *error_s;
      // The noise fills 8 kHz, the sound what sampling lets through.
      const double ratio = std::pow(10, snr_db / 10) * 8000 / passed_hz;
      bounds += std::pow(delay_bound_s(white_noise_seconds(plan), ratio, 0, passed_hz), 2);
    }
    const double rms_us = placed > 0 ? 1e6 * std::sqrt(squares / placed) : 0;
    const double bound_us = placed > 0 ? 1e6 * std::sqrt(bounds / placed) : 0;
    std::printf("%8.0f %7d %8d %12.3f %12.3f %8.1f\n", snr_db, options.white_noise, placed, rms_us, bound_us,
                bound_us > 0 ? rms_us / bound_us : 0);
  }
}

int run_only(const Options& options) {
  const auto scene = scene_named(options.kind);
  if (!scene) {
    std::fprintf(stderr, "--only needs --kind with the name of a kind (see --help).\n");
    return 2;
  }
  const Cell cell{*scene, options.snr_db.value_or(10), options.overlap_s.value_or(120)};
  const Score score = run_one(cell, options.only, options);
  print_head(stdout);
  print_row(stdout, name_of(cell), score);
  print_rest(stdout, score);
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Runs the line-up on simulated sessions whose truth is known. Findings go to stderr, one a line."};
  Options options;
  bool full = false;
  app.add_flag("--full", full, "at least 500 sessions and 2,000 pairs that do not belong together");
  app.add_option("--sessions", options.sessions, "sessions over all kinds");
  app.add_option("--strangers", options.stranger_pairs, "pairs that do not belong together");
  app.add_option("--white-noise", options.white_noise, "trials a row of the table against the bound; 0 leaves it out");
  app.add_option("--start", options.start, "another number draws other sessions");
  app.add_option("--kind", options.kind,
                 "in_step, spread, chain, many, dropouts, hour, repeated, steady, microphones, handled, soundless, "
                 "unrelated, impostors");
  app.add_option("--alike", options.alike, "of the pairs that do not belong together only those alike by this")
      ->check(CLI::IsMember(all_likenesses()));
  app.add_option("--only", options.only, "run the one session of this number (with --kind, --snr, --overlap)");
  app.add_option("--snr", options.snr_db, "only rows of this many dB; with --only 10 unless told");
  app.add_option("--overlap", options.overlap_s,
                 "only rows of this many seconds, kinds in_step and spread; with --only 120 unless told");
  app.add_flag("--quiet", options.quiet, "no findings");
  CLI11_PARSE(app, argc, argv);
  if (full) {
    options.sessions = std::max(options.sessions, 532);
    options.stranger_pairs = std::max(options.stranger_pairs, 2000);
    options.white_noise = std::max(options.white_noise, 20);
  }
  if (options.only != 0) return run_only(options);
  Score all;
  if (options.kind != "unrelated" && options.kind != "impostors") all += run_sessions(options);
  if (options.kind.empty() || options.kind == "unrelated" || options.kind == "impostors") all += run_strangers(options);
  print_rest(stdout, all);
  if (options.white_noise > 0 && options.kind.empty()) run_white_noise(options);
  return 0;
}
