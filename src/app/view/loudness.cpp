#include "app/view/loudness.h"

#include <algorithm>

namespace jigtime::app {
namespace {

constexpr std::int64_t folded = 8;

}  // namespace

Loudness::Loudness(ClipTime origin, int rate_hz, std::vector<std::uint8_t> peaks)
    : origin_{origin}, rate_hz_{std::max(rate_hz, 1)} {
  if (peaks.empty()) return;
  levels_.push_back(std::move(peaks));
  while (std::ssize(levels_.back()) > folded) {
    const std::vector<std::uint8_t>& below = levels_.back();
    std::vector<std::uint8_t> next;
    for (std::size_t i = 0; i < below.size(); i += folded) {
      const auto first = below.begin() + static_cast<std::ptrdiff_t>(i);
      next.push_back(*std::max_element(first, first + std::min<std::ptrdiff_t>(folded, below.end() - first)));
    }
    levels_.push_back(std::move(next));
  }
}

std::uint8_t Loudness::loudest(ClipTime from, ClipTime to) const {
  if (empty()) return 0;
  std::int64_t first = scaled((from - origin_).count(), rate_hz_, one_in_ppb);
  std::int64_t last = std::max(scaled((to - origin_).count(), rate_hz_, one_in_ppb), first + 1);
  std::size_t level = 0;
  while (last - first > 2 * folded && level + 1 < levels_.size()) {
    first /= folded;
    last = (last + folded - 1) / folded;
    ++level;
  }
  const std::vector<std::uint8_t>& peaks = levels_[level];
  first = std::clamp<std::int64_t>(first, 0, std::ssize(peaks));
  last = std::clamp<std::int64_t>(last, first, std::ssize(peaks));
  return first == last ? std::uint8_t{0} : *std::max_element(peaks.begin() + first, peaks.begin() + last);
}

}  // namespace jigtime::app
