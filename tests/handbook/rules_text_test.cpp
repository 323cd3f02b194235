#include "handbook/rules_text.h"

#include <doctest/doctest.h>

#include "handbook/callout.h"
#include "support/text.h"

using namespace jigtime::handbook;
using jigtime::test::contains;

namespace {

std::string told(std::string_view callout) {
  std::string all;
  for (const std::string& sentence : rules_for(*parse_callout(callout))) all += sentence + "\n";
  return all;
}

}  // namespace

TEST_CASE("a solid rivet's rules are told with every source, and the caution last") {
  const std::string text = told("MS20426AD4-5");
  for (const char* words :
       {"Hole, solid rivet, usual today: .1285 in, drill #30 (US Army TM",
        "Formed head, customary: 1.5 D wide, 0.5 D high: 0.1875 in wide, 0.0625 in high",
        "Formed head, least: 1.3 D wide, 0.3 D high: 0.1625 in wide or more, 0.0375 in high or more",
        "Formed head, acceptance band: 0.1600 to 0.2100 in wide, 0.0400 to 0.0800 in high",
        "Manufactured head: .225 in wide, .042 in high, for drawing and not for acceptance (NAS1921",
        "Single shear of one rivet, for checking a printed table only: 389 lb in a hole of .1285 in, from 30 ksi",
        "A damaged hole takes the next larger rivet, 5/32 in (0.15625 in), if edge distance and spacing still hold",
        "at most 20 % of the rivets or 10 in one pattern", "A burr chamfer is at most 10 % of the sheet",
        "Edge distance, flush head: 0.3125 in (2.5 D) or more", "Edge distance, any head: 0.5000 in (4 D) at most",
        "Pitch: 0.3750 in (3 D) to 1.5000 in (12 D)", "as quoted elsewhere", "from memory"}) {
    CAPTURE(words);
    CHECK(contains(text, words));
  }
  CHECK(rules_for(*parse_callout("MS20426AD4-5")).back() == caution);
}

TEST_CASE("a protruding head is not told the flush head's edge distance, and the other way round") {
  CHECK_FALSE(contains(told("MS20470AD4-5"), "flush head"));
  CHECK_FALSE(contains(told("MS20426AD4-5"), "protruding head"));
}

TEST_CASE("a blind rivet is told of its hole and how it is looked at, and of no formed head") {
  const std::string text = told("MS20600AD4W3");
  CHECK(contains(text, "Hole, blind rivet, limits: .128 to .132 in, drill #30"));
  CHECK(contains(text, "not approved for structure of certificated aircraft"));
  CHECK_FALSE(contains(text, "solid rivet"));
  CHECK_FALSE(contains(text, "Formed head"));
}

TEST_CASE("a size no table has says so instead of staying silent") {
  CHECK(contains(told("MS20470AD7-8"), "No table at hand gives a hole for 7/32 in."));
}

// FAA AC 43.13-1B, 4-57b (seen).
TEST_CASE("what may stand in for a rivet is told as far as the rule reaches, and no further") {
  CHECK(contains(told("MS20470DD5-6"), "It may be replaced by AD of 3/16 in (0.1875 in) (FAA AC 43.13-1B, 4-57b)."));
  CHECK(contains(told("MS20470D6-6"), "which is no usual stock size"));
  CHECK_FALSE(contains(told("MS20470DD6-6"), "It may be replaced"));
  CHECK_FALSE(contains(told("MS20470AD4-5"), "It may be replaced"));
}
