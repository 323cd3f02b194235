#include <doctest/doctest.h>

#include <set>

#include "store/filled.h"
#include "store/journal_file.h"
#include "store/ranking_private.h"
#include "store/search_private.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Hit;
using store::worth;

// The figures are those of the formula, reckoned by hand: count * 2.2 / (count + 1.2 * size).
TEST_CASE("a word that occurs more often is worth more, the less the more there are of it") {
  CHECK(worth(1, 0, 0) == doctest::Approx(1.0));
  CHECK(worth(2, 0, 0) == doctest::Approx(1.375));
  CHECK(worth(15, 0, 0) == doctest::Approx(2.0370370));
}

TEST_CASE("every word of a query adds its worth") { CHECK(worth(0x21, 0, 0) == doctest::Approx(2.375)); }

TEST_CASE("a text twice as long as the mean is worth less, one of mean length as much as without lengths") {
  CHECK(worth(1, 10, 10) == doctest::Approx(1.0));
  CHECK(worth(1, 20, 10) == doctest::Approx(2.2 / 3.1));
  CHECK(worth(1, 5, 10) == doctest::Approx(2.2 / 1.75));
}

namespace {

struct Many : JournalFile {
  void marks(int count, const std::function<std::string(int)>& note) {
    must(store.edit("marks", [&](Edit& edit) -> Done {
      for (int i = 0; i < count; ++i) must(edit.add(Mark{{}, {1}, at(std::chrono::seconds{i}), note(i)}));
      return {};
    }));
  }
};

}  // namespace

TEST_CASE_FIXTURE(Many, "of more hits than are ranked those are kept in which the words occur most often") {
  fill(store);
  marks(3000,
        [](int i) { return i == 7 || i == 1500 || i == 2999 ? std::string{"clamp clamp"} : std::string{"clamp"}; });
  const auto hits = must(store.find("clamp", 5));
  REQUIRE(hits.size() == 5);
  CHECK(hits[0].begin == at(2999s));
  CHECK(hits[1].begin == at(1500s));
  CHECK(hits[2].begin == at(7s));
  CHECK(must(store.find("clamp", 9999)).size() == store::most_ranked);
}

TEST_CASE_FIXTURE(Many, "where thousands of spans say the same as a few marks, the marks are found") {
  fill(store);
  marks(3, [](int) { return std::string{"clamp"}; });
  must(store.edit("spans", [&](Edit& edit) -> Done {
    for (int i = 0; i < 2000; ++i) {
      must(edit.add(Span{{},
                         {1},
                         SpanKind::pause,
                         at(std::chrono::seconds{i}),
                         at(std::chrono::seconds{i + 1}),
                         std::nullopt,
                         {},
                         {},
                         "clamp",
                         false}));
    }
    return {};
  }));
  const auto hits = must(store.find("clamp"));
  REQUIRE(hits.size() == 200);
  for (std::size_t i = 0; i < 3; ++i) CHECK(hits[i].kind == Hit::Kind::mark);
}

TEST_CASE_FIXTURE(Many, "texts of more than 127 words are ranked by their whole length") {
  fill(store);
  // FTS5 writes such lengths in two bytes.
  std::string longer = "clamp";
  for (int i = 0; i < 300; ++i) longer += " word";
  std::string shorter = "clamp";
  for (int i = 0; i < 140; ++i) shorter += " word";
  marks(2, [&](int i) { return i == 0 ? shorter : longer; });
  const auto hits = must(store.find("clamp"));
  REQUIRE(hits.size() == 2);
  CHECK(hits[0].begin == at(0s));
}

TEST_CASE_FIXTURE(Many, "of equally good hits the later written comes first, and a query of twenty words is one too") {
  fill(store);
  marks(4, [](int) { return std::string{"a1 b1 c1 d1 e1 f1 g1 h1 i1 j1 k1 l1 m1 n1 o1 p1 q1 r1 s1 t1"}; });
  const auto hits = must(store.find("a1 b1 c1 d1 e1 f1 g1 h1 i1 j1 k1 l1 m1 n1 o1 p1 q1 r1 s1 t1"));
  REQUIRE(hits.size() == 4);
  CHECK(hits[0].begin == at(3s));
  CHECK(hits[3].begin == at(0s));
}
