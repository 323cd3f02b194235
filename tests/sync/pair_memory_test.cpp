#include "sync/pair_memory.h"

#include <doctest/doctest.h>

#include <random>

using namespace jigtime::sync;

namespace {

PairFacts facts() {
  PairFacts facts;
  for (int i = 0; i < 3; ++i) {
    Candidate candidate;
    candidate.line = {1.5 * i, -20.25, 30e-6};
    candidate.slope_reach = 1e-4;
    candidate.from = 3;
    candidate.to = 99;
    candidate.score = 12.5 - i;
    candidate.blocks = i;
    facts.candidates.push_back(candidate);
  }
  facts.compared = {0, 2};
  facts.match.emplace();
  facts.match->overlap = 77;
  facts.match->unmatched_to = 12;
  facts.match->unmatched_from = 71;
  Segment segment;
  segment.from = 1;
  segment.to = 78;
  segment.fit = {{40, -20.2, 31e-6}, 0.002};
  segment.observations = {{5, -20.201, 1}, {50, -20.199, 0.5}};
  segment.windows = 9;
  segment.agreed = 7;
  segment.proof = 33;
  segment.coarse = 12.5;
  segment.within = 0.9;
  segment.explained = 0.8;
  facts.match->segments = {segment, segment};
  facts.match->rivals = {segment};
  facts.match->doubted = {segment, segment, segment};
  facts.match->with_blows = {segment, segment};
  return facts;
}

}  // namespace

TEST_CASE("what is remembered of a pair comes back as it was") {
  const PairFacts before = facts();
  const auto bytes = packed(before);
  const auto after = unpacked(bytes);
  REQUIRE(after.has_value());
  CHECK(packed(*after) == bytes);
  CHECK(after->candidates[2].score == before.candidates[2].score);
  CHECK(after->compared == before.compared);
  REQUIRE(after->match.has_value());
  CHECK(after->match->segments[1].observations[1].lag == -20.199);
  CHECK(after->match->unmatched_to == 12);
  CHECK(after->match->unmatched_from == 71);
  CHECK(after->match->rivals.size() == 1);
  CHECK(after->match->doubted.size() == 3);
  CHECK(after->match->with_blows.size() == 2);
}

TEST_CASE("what a close search found is remembered beside the rest") {
  PairFacts before = facts();
  before.closer = PairFacts::Closer{9, before.candidates, *before.match};
  before.closer->match.segments.resize(1);
  before.closer->match.segments[0].audible = 17;
  const auto bytes = packed(before);
  const auto after = unpacked(bytes);
  REQUIRE(after.has_value());
  CHECK(packed(*after) == bytes);
  REQUIRE(after->closer.has_value());
  CHECK(after->closer->windows == 9);
  CHECK(after->closer->candidates.size() == 3);
  REQUIRE(after->closer->match.segments.size() == 1);
  CHECK(after->closer->match.segments[0].audible == 17);
  CHECK(!unpacked(packed(facts()))->closer.has_value());
}

TEST_CASE("what was found where others put the pair is remembered with its lag") {
  PairFacts before = facts();
  before.expected = PairFacts::Expected{-20.3, *before.match};
  before.by_clocks = PairFacts::Expected{-21.5, *before.match};
  before.expected->match.segments[0].loose = 4.5;
  const auto after = unpacked(packed(before));
  REQUIRE(after.has_value());
  CHECK(packed(*after) == packed(before));
  REQUIRE(after->expected.has_value());
  CHECK(after->expected->lag == -20.3);
  REQUIRE(after->by_clocks.has_value());
  CHECK(after->by_clocks->lag == -21.5);
  CHECK(after->expected->match.segments[0].loose == 4.5);
  CHECK(!after->closer.has_value());
  CHECK(!unpacked(packed(facts()))->expected.has_value());
}

TEST_CASE("a pair that was passed over is remembered without a match") {
  PairFacts before = facts();
  before.match.reset();
  before.compared.clear();
  const auto after = unpacked(packed(before));
  REQUIRE(after.has_value());
  CHECK(!after->match.has_value());
  CHECK(after->candidates.size() == 3);
}

TEST_CASE("memory that is cut short, too long, or of another version is no memory") {
  const auto bytes = packed(facts());
  for (std::size_t length = 0; length < bytes.size(); ++length) CHECK(!unpacked(std::span{bytes}.first(length)));
  auto longer = bytes;
  longer.push_back(0);
  CHECK(!unpacked(longer));
  auto other = bytes;
  ++other[0];
  CHECK(!unpacked(other));
}

TEST_CASE("garbled memory never breaks anything") {
  const auto bytes = packed(facts());
  std::mt19937 dice{3};
  for (int i = 0; i < 5000; ++i) {
    auto garbled = bytes;
    for (int n = 0; n < 3; ++n) garbled[dice() % garbled.size()] = static_cast<std::uint8_t>(dice());
    const auto found = unpacked(garbled);
    if (!found) continue;
    for (const int index : found->compared) CHECK(index < static_cast<int>(found->candidates.size()));
  }
}
