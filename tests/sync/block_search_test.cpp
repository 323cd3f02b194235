#include "sync/block_search.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>

#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

namespace {

std::vector<Vote> votes_for(const Frames& a, Block block, const Frames& b, int count) {
  BlockSearch search;
  const PreparedBlock prepared = search.prepare(a, block);
  const PreparedBlock* const looked_for[] = {&prepared};
  return search.search(looked_for, b, count).front();
}

Frames frames_of(const Shop& shop, const Take& take) { return Frames{features_of(record(shop, take))}; }

}  // namespace

TEST_CASE("a clip is cut into equal blocks of at most two minutes that leave nothing out") {
  const Shop shop = make_shop({.number = 41, .seconds = 420, .every = 5});
  const Frames frames = frames_of(shop, {.seconds = 400});
  const auto blocks = blocks_of(frames);
  REQUIRE(blocks.size() == 4);
  int next = 0;
  for (const Block& block : blocks) {
    CHECK(block.first == next);
    CHECK(block.count <= 6000);
    CHECK(std::abs(block.count - frames.count() / 4) <= 1);
    next += block.count;
  }
  CHECK(next == frames.count());
  CHECK(blocks_of(Frames{}).empty());
}

TEST_CASE("a block's highest vote is where it lies, to a frame, and stands far out") {
  const Shop shop = make_shop({.number = 42, .seconds = 700, .every = 3});
  const Frames a = frames_of(shop, {.start = 260, .seconds = 110, .number = 1});
  const Frames b = frames_of(shop, {.start = 0, .seconds = 650, .snr_db = 5, .number = 2});
  const auto votes = votes_for(a, {0, a.count()}, b, 5);
  REQUIRE(votes.size() == 5);
  CHECK(std::abs(votes[0].lag - 260) < 0.02);
  CHECK(votes[0].z > 3 * votes[1].z);
  for (std::size_t i = 1; i < votes.size(); ++i) {
    CHECK(votes[i].z <= votes[i - 1].z);
    for (std::size_t k = 0; k < i; ++k) CHECK(std::abs(votes[i].lag - votes[k].lag) >= 0.49);
  }
}

TEST_CASE("a block that hangs over either end of the other clip is found by what overlaps") {
  const Shop shop = make_shop({.number = 43, .seconds = 300, .every = 2});
  const Frames b = frames_of(shop, {.start = 80, .seconds = 100, .number = 2});
  for (const double start : {30.0, 140.0}) {
    CAPTURE(start);
    const Frames a = frames_of(shop, {.start = start, .seconds = 100, .number = 1});
    const auto votes = votes_for(a, {0, a.count()}, b, 3);
    REQUIRE(!votes.empty());
    CHECK(std::abs(votes[0].lag - (start - 80)) < 0.03);
    const double overlap_from = std::max(start, 80.0), overlap_to = std::min(start, 80.0) + 100;
    CHECK(std::abs(votes[0].at - ((overlap_from + overlap_to) / 2 - start)) < 0.1);
  }
}

TEST_CASE("silence and an empty clip have no votes, and no vote of noise stands out") {
  const Shop shop = make_shop({.number = 44, .seconds = 130, .every = 3});
  const Frames a = frames_of(shop, {.seconds = 110, .number = 1});
  const std::vector<float> silence(110 * sample_rate_hz);
  CHECK(votes_for(a, {0, a.count()}, Frames{features_of(silence)}, 5).empty());
  CHECK(votes_for(a, {0, a.count()}, Frames{}, 5).empty());
  const Shop other = make_shop({.number = 45, .seconds = 130, .every = 3});
  const auto votes = votes_for(a, {0, a.count()}, frames_of(other, {.seconds = 110, .number = 2}), 1);
  REQUIRE(!votes.empty());
  CHECK(votes[0].z < 8);
}
