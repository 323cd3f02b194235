#include <doctest/doctest.h>

#include <cmath>

#include "sync/compare.h"
#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

TEST_CASE("the best candidate of each pair is where the clips lie, whichever is searched in which") {
  const Shop shop = make_shop({.number = 21, .seconds = 420, .every = 3});
  Footage footage;
  footage.add(shop, {.start = 0, .seconds = 400, .number = 1}, 0);
  footage.add(shop, {.start = 90, .seconds = 100, .rate_ppm = 60, .number = 2}, 1);
  footage.add(shop, {.start = 150, .seconds = 250, .rate_ppm = -60, .number = 3}, 2);
  const Ears ears{footage.clips};
  std::vector<Prospect> prospects{{1, 0, {}}, {2, 0, {}}, {1, 2, {}}};
  find_candidates(ears, {0, 1, 2}, {}, prospects);
  const double expected[] = {90, 150, -60};
  for (std::size_t i = 0; i < prospects.size(); ++i) {
    REQUIRE(!prospects[i].candidates.empty());
    CHECK(std::abs(prospects[i].candidates[0].line(20) - expected[i]) < 0.06);
    CHECK(prospects[i].candidates[0].score > 8);
  }
}

TEST_CASE("only what is wanted is searched, and one thread finds what two find") {
  const Shop shop = make_shop({.number = 22, .seconds = 320, .every = 3});
  Footage footage;
  footage.add(shop, {.start = 0, .seconds = 300, .number = 1}, 0);
  footage.add(shop, {.start = 30, .seconds = 120, .number = 2}, 1);
  footage.add(shop, {.start = 60, .seconds = 90, .number = 3}, 2);
  const Ears ears{footage.clips};
  std::vector<Prospect> one{{1, 0, {}}, {2, 0, {}}}, two = one;
  find_candidates(ears, {1}, {}, one);
  CHECK(one[0].candidates.empty());
  CHECK(!one[1].candidates.empty());
  Watch alone;
  alone.threads = 1;
  find_candidates(ears, {0, 1}, {}, one);
  find_candidates(ears, {0, 1}, alone, two);
  for (std::size_t i = 0; i < one.size(); ++i) {
    REQUIRE(one[i].candidates.size() == two[i].candidates.size());
    for (std::size_t n = 0; n < one[i].candidates.size(); ++n) {
      CHECK(one[i].candidates[n].line.lag == two[i].candidates[n].line.lag);
      CHECK(one[i].candidates[n].score == two[i].candidates[n].score);
    }
  }
}
