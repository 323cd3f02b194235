#include "sync/pair_memory.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <type_traits>

namespace jigtime::sync {

namespace {

constexpr std::uint32_t most_of_anything = 1'000'000;

/// Appends what it is given, number by number, as this machine lays it out: the bytes never leave it.
class Packer {
 public:
  template <class Number>
  void operator()(const Number& number) {
    static_assert(std::is_arithmetic_v<Number>);
    const auto at = bytes_.size();
    bytes_.resize(at + sizeof number);
    std::memcpy(bytes_.data() + at, &number, sizeof number);
  }
  template <class Item>
  bool list(const std::vector<Item>& items) {
    (*this)(static_cast<std::uint32_t>(items.size()));
    return true;
  }
  std::vector<std::uint8_t> take() { return std::move(bytes_); }

 private:
  std::vector<std::uint8_t> bytes_;
};

class Unpacker {
 public:
  explicit Unpacker(std::span<const std::uint8_t> bytes) : bytes_{bytes} {}
  template <class Number>
  void operator()(Number& number) {
    if (bytes_.size() < sizeof number) {
      good_ = false;
      number = {};
      return;
    }
    std::memcpy(&number, bytes_.data(), sizeof number);
    bytes_ = bytes_.subspan(sizeof number);
    if constexpr (std::is_floating_point_v<Number>) good_ = good_ && std::isfinite(number);
  }
  template <class Item>
  bool list(std::vector<Item>& items) {
    std::uint32_t count = 0;
    (*this)(count);
    // Every item is at least four bytes long.
    good_ = good_ && count <= most_of_anything && count <= bytes_.size() / 4 + 1;
    if (good_) items.resize(count);
    return good_;
  }
  bool whole() const { return good_ && bytes_.empty(); }

 private:
  std::span<const std::uint8_t> bytes_;
  bool good_ = true;
};

// One description of each thing serves both ways.
template <class Way, class Facts>
void go(Way& way, Facts& facts) {
  const auto line = [&](auto& one) {
    way(one.at);
    way(one.lag);
    way(one.slope);
  };
  const auto segments = [&](auto& all) {
    if (!way.list(all)) return;
    for (auto& segment : all) {
      way(segment.from);
      way(segment.to);
      line(segment.fit.line);
      way(segment.fit.spread);
      if (!way.list(segment.observations)) return;
      for (auto& seen : segment.observations) {
        way(seen.at);
        way(seen.lag);
        way(seen.weight);
      }
      way(segment.windows);
      way(segment.agreed);
      way(segment.proof);
      way(segment.coarse);
      way(segment.within);
      way(segment.doubt);
      way(segment.loose);
      way(segment.explained);
      way(segment.audible);
    }
  };
  const auto candidates = [&](auto& all) {
    if (!way.list(all)) return;
    for (auto& candidate : all) {
      line(candidate.line);
      way(candidate.slope_reach);
      way(candidate.from);
      way(candidate.to);
      way(candidate.score);
      way(candidate.blocks);
    }
  };
  const auto whole_match = [&](auto& match) {
    way(match.overlap);
    way(match.unmatched_to);
    way(match.unmatched_from);
    segments(match.segments);
    segments(match.rivals);
    segments(match.doubted);
    segments(match.with_blows);
  };
  candidates(facts.candidates);
  if (!way.list(facts.compared)) return;
  for (auto& index : facts.compared) way(index);
  whole_match(*facts.match);
  way(facts.closer->windows);
  candidates(facts.closer->candidates);
  whole_match(facts.closer->match);
  way(facts.expected->lag);
  whole_match(facts.expected->match);
  way(facts.by_clocks->lag);
  whole_match(facts.by_clocks->match);
}

constexpr std::uint8_t has_match = 1, has_closer = 2, has_expected = 4, has_by_clocks = 8;

bool observed(const PairMatch& match) {
  const auto bare = [](const Segment& segment) { return segment.observations.empty(); };
  return std::ranges::none_of(match.segments, bare) && std::ranges::none_of(match.rivals, bare) &&
         std::ranges::none_of(match.doubted, bare) && std::ranges::none_of(match.with_blows, bare);
}

}  // namespace

std::vector<std::uint8_t> packed(const PairFacts& facts) {
  Packer packer;
  packer(PairMemory::version);
  packer(static_cast<std::uint8_t>((facts.match ? has_match : 0) | (facts.closer ? has_closer : 0) |
                                   (facts.expected ? has_expected : 0) | (facts.by_clocks ? has_by_clocks : 0)));
  PairFacts whole = facts;
  if (!whole.match) whole.match.emplace();
  if (!whole.closer) whole.closer.emplace();
  if (!whole.expected) whole.expected.emplace();
  if (!whole.by_clocks) whole.by_clocks.emplace();
  go(packer, whole);
  return packer.take();
}

std::optional<PairFacts> unpacked(std::span<const std::uint8_t> bytes) {
  Unpacker unpacker{bytes};
  int version = 0;
  std::uint8_t has = 0;
  unpacker(version);
  unpacker(has);
  if (version != PairMemory::version || has > (has_match | has_closer | has_expected | has_by_clocks))
    return std::nullopt;
  PairFacts facts;
  facts.match.emplace();
  facts.closer.emplace();
  facts.expected.emplace();
  facts.by_clocks.emplace();
  go(unpacker, facts);
  if (!unpacker.whole()) return std::nullopt;
  for (const int index : facts.compared) {
    if (index < 0 || index >= static_cast<int>(facts.candidates.size())) return std::nullopt;
  }
  if (!observed(*facts.match) || !observed(facts.closer->match) || !observed(facts.expected->match) ||
      !observed(facts.by_clocks->match))
    return std::nullopt;
  if ((has & has_match) == 0) facts.match.reset();
  if ((has & has_closer) == 0) facts.closer.reset();
  if ((has & has_expected) == 0) facts.expected.reset();
  if ((has & has_by_clocks) == 0) facts.by_clocks.reset();
  return facts;
}

}  // namespace jigtime::sync
