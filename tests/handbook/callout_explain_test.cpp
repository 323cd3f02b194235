#include <doctest/doctest.h>

#include "handbook/callout.h"
#include "support/text.h"

using namespace jigtime::handbook;
using jigtime::test::contains;

namespace {

std::string explained(std::string_view text) {
  std::string all;
  for (const std::string& sentence : explain(*parse_callout(text))) all += sentence + "\n";
  return all;
}

}  // namespace

// Where the length is measured: a how-to page and notes on NAS523 (both seen only as quoted elsewhere).
TEST_CASE("a flush rivet is explained with its length over all, a universal one with its length under the head") {
  const std::string flush = explained("MS20426AD3-4.5");
  CHECK(contains(flush, "MS20426AD3-4.5: solid rivet with a 100° countersunk (flush) head"));
  CHECK(contains(flush, "Material AD: 2117-T4, known by one dimple in the head"));
  CHECK(contains(flush, "Diameter 3/32 in (0.09375 in)."));
  CHECK(contains(flush, "Length 9/32 in (0.28125 in), measured over all, head included"));
  CHECK(contains(explained("MS20470AD4-5"), "Length 5/16 in (0.3125 in), measured from under the head"));
}

TEST_CASE("every explanation ends with the caution") {
  for (const char* text : {"MS20426AD3-4.5", "NAS1097AD4-5", "MS20600AD4W3", "NAS1921C08-12"}) {
    const auto sentences = explain(*parse_callout(text));
    CHECK(sentences.back() == caution);
    for (const std::string& sentence : sentences) CHECK(sentence.back() == '.');
  }
}

// Grip and hole: US Army TM 10-5410-221-14-1, Table 4-3 (seen), code 43.
TEST_CASE("a blind rivet in the printed table is explained with grip and hole, one outside it says so") {
  const std::string in = explained("MS20600AD4W3");
  CHECK(contains(in, "the largest grip is 3/16 in (0.1875 in)"));
  CHECK(contains(in, "grips from .126 to .187 in, holes from .128 to .132 in, drill #30"));
  CHECK(contains(explained("MS20600AD4-7"), "The smallest grip and the hole are not in the table at hand"));
}

TEST_CASE("a fact from memory says that it is") {
  CHECK(contains(explained("MS20470KE4-5"), "7050-T73, known by a raised ring on the head (from memory, not checked"));
  CHECK(contains(explained("MS20600AD4W3"), "2117 sleeve (from memory, not checked"));
}

TEST_CASE("a call-out made by hand under no known standard is explained without falling over") {
  Callout odd;
  odd.standard = "XY1";
  odd.material = "Q";
  const auto sentences = explain(odd);
  CHECK(sentences.front() == "XY1Q0-0.");
  CHECK(sentences.back() == caution);
}
