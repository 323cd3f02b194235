// A pair's candidates and what comparing them gave, as bytes and back.
// Must never know: where they are kept.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// What is known of a pair from an earlier line-up.
struct PairFacts {
  std::vector<Candidate> candidates;
  std::vector<int> compared;       ///< indices of the candidates that `match` rests on
  std::optional<PairMatch> match;  ///< none: the pair was passed over
  /// By the close search, where it was asked.
  struct Closer {
    int windows = 0;
    std::vector<Candidate> candidates{};
    PairMatch match{};
  };
  std::optional<Closer> closer{};
  /// At the lag that other pairs put it at, or clocks, where nothing else was proven.
  struct Expected {
    double lag = 0;
    PairMatch match{};
  };
  std::optional<Expected> expected{};
  std::optional<Expected> by_clocks{};
};

std::vector<std::uint8_t> packed(const PairFacts& facts);
/// Nothing when the bytes are not what packed() wrote in this version; numbers in them may still be anything finite.
std::optional<PairFacts> unpacked(std::span<const std::uint8_t> bytes);

}  // namespace jigtime::sync
