#include "report/rounding.h"

namespace jigtime::report {
namespace {

/// Row n is the difference of two rounded running sums: within a second of its length, and the rows add up.
std::vector<Length> whole_seconds(const std::vector<Length>& lengths) {
  std::vector<Length> shown;
  Length sum{0};
  std::int64_t seconds_before = 0;
  for (const Length length : lengths) {
    sum += length;
    const std::int64_t seconds = scaled(sum.count(), 1, 1'000'000'000);
    shown.push_back(std::chrono::seconds{seconds - seconds_before});
    seconds_before = seconds;
  }
  return shown;
}

}  // namespace

std::vector<Length> shown_lengths(const std::vector<Length>& lengths, journal::Rounding rounding) {
  if (rounding == journal::Rounding::none) return whole_seconds(lengths);
  return journal::rounded_to_add_up(lengths, rounding);
}

Length shown_length(Length length, journal::Rounding rounding) { return shown_lengths({length}, rounding).front(); }

}  // namespace jigtime::report
