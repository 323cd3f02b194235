#include "bench/score_table.h"

#include <algorithm>
#include <cmath>

namespace jigtime::bench {
namespace {

double percent(double part, double whole) { return whole > 0 ? 100 * part / whole : 0; }

}  // namespace

double quantile(std::vector<double> values, double part) {
  if (values.empty()) return 0;
  const double rank = std::ceil(part * static_cast<double>(values.size())) - 1;
  const auto place = static_cast<std::ptrdiff_t>(std::clamp(rank, 0.0, static_cast<double>(values.size() - 1)));
  std::nth_element(values.begin(), values.begin() + place, values.end());
  return values[static_cast<std::size_t>(place)];
}

void print_head(std::FILE* to) {
  std::fprintf(to,
               "%-26s %5s %6s %6s | %8s %8s %8s %5s | %7s | %5s %5s | %-22s | %7s\n"
               "%-26s %5s %6s %6s | %8s %8s %8s %5s | %7s | %5s %5s | %-22s | %7s\n",
               "", "", "", "", "error", "of a", "pair, ms", "", "rate", "cover", "%", "dropouts", "CPU s",
               "kind, SNR dB, overlap s", "sess.", "clips", "plac.%", "median", "95 %", "worst", "wrong", "ppm 95%",
               "1 s", "2 s", "due/found/2 s/other/inv", "per min");
}

void print_row(std::FILE* to, const std::string& name, const Score& score) {
  const double worst = score.error_ms.empty() ? 0 : *std::max_element(score.error_ms.begin(), score.error_ms.end());
  std::fprintf(to, "%-26s %5d %6d %6.1f | %8.3f %8.3f %8.2f %5d | %7.2f | %5.1f %5.1f | %4d/%4d/%4d/%4d/%4d | %7.3f\n",
               name.c_str(), score.sessions, score.placeable, percent(score.placed, score.placeable),
               quantile(score.error_ms, 0.5), quantile(score.error_ms, 0.95), worst, score.wrong,
               quantile(score.rate_error_ppm, 0.95), percent(score.within_1_sigma, score.instants),
               percent(score.within_2_sigma, score.instants), score.dropouts, score.dropouts_found, score.dropouts_near,
               score.dropouts_swapped, score.dropouts_invented,
               score.sound_s > 0 ? 60 * score.cpu_s / score.sound_s : 0);
}

void print_rest(std::FILE* to, const Score& all) {
  const auto by_clock = static_cast<int>(all.clock_error_s.size());
  std::fprintf(to,
               "\nwithout sound, by their clock: %d clips, median error %.2f s, 95 %% %.2f s, within 2 sigma %.0f %%\n",
               by_clock, quantile(all.clock_error_s, 0.5), quantile(all.clock_error_s, 0.95),
               percent(all.clock_within_2_sigma, by_clock));
  std::fprintf(to, "pairs that do not belong together: %d, falsely paired %d; lone clips falsely placed on sound: %d\n",
               all.strangers, all.strangers_paired, all.lone_placed);
  std::fprintf(to, "sound: %.1f h; line-up with features: %.3f CPU s per minute of sound\n", all.sound_s / 3600,
               all.sound_s > 0 ? 60 * all.cpu_s / all.sound_s : 0);
}

}  // namespace jigtime::bench
