#include "handbook/regime.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "handbook/shipped.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::handbook;

namespace {

const std::string sound =
    "jigtime regime 1\nname: here\ntitle: Here\nshare: more than 50\nfinding: It is theirs. | A rule | seen\n"
    "tasks: Tasks count. | A page | quoted\nrecord: Who. | | memory\n";

std::string refusal(const std::string& text) {
  const auto regime = parse_regime(text);
  REQUIRE_FALSE(regime.ok());
  CHECK(regime.error().code() == Code::invalid);
  return regime.error().message();
}

Regime shipped(std::string_view name) {
  for (const Shipped& file : shipped_regimes()) {
    if (file.name == name) return *parse_regime(file.text);
  }
  FAIL("not shipped");
  return {};
}

}  // namespace

TEST_CASE("a regime is read with its facts, each with its source and how far it can be trusted") {
  const auto regime =
      parse_regime(sound + "inspection: pre-cover | Before closing. | A page | seen\nnote: So. | B | seen\n");
  REQUIRE_MESSAGE(regime.ok(), (regime.ok() ? std::string{} : regime.error().message()));
  CHECK(regime->share == Share::more_than_50);
  CHECK(regime->findings[0] == Fact{"It is theirs.", "A rule", Seen::seen});
  CHECK(to_text(regime->tasks[0]) == "Tasks count (A page, as quoted elsewhere).");
  CHECK(to_text(regime->records[0]) == "Who (from memory, not checked against a document).");
  CHECK(regime->inspections[0].name == "pre-cover");
  CHECK(regime->notes.size() == 1);
}

TEST_CASE("every bad line is named with its number") {
  const std::string text = refusal(sound +
                                   "share: none\nshare\nrecord: No source. | | seen\nrecord: No mark. | A\n"
                                   "record: no stop | A | seen\nrecord: Odd. | A | heard\nrule: What. | A | seen\n"
                                   "inspection: Two Words | Text. | A | seen\nnote:\n");
  for (const char* part :
       {"line 8: \"share\" stands there twice", "line 9: it is not \"key: words\"",
        "line 10: what was seen has a source", "line 11: a fact ends in", "line 12: a fact is a whole sentence",
        "line 13: a fact ends in", "line 14: there is no key \"rule\"",
        "line 15: an inspection begins with a short name", "line 16: what stands behind \"note:\" is missing"}) {
    CAPTURE(part);
    CHECK_MESSAGE(contains(text, part), text);
  }
}

TEST_CASE("what a regime must say is missed when it is not there") {
  const std::string text = refusal("jigtime regime 1\n");
  for (const char* key : {"name", "title", "share", "finding", "tasks", "record"})
    CHECK(contains(text, "\"" + std::string{key} + ": ..."));
  CHECK(contains(refusal("name: us\n"), "line 1: the file must begin with"));
  CHECK(contains(refusal("jigtime regime 1\nshare: half\n"), "\"more than 50\", \"at least 51\" or \"none\""));
  CHECK(contains(refusal(sound + "inspection: a | X. | A | seen\ninspection: a | X. | A | seen\n"), "line 9"));
}

TEST_CASE("five regimes are shipped, each names a finding, records, stages and where it says that tasks count") {
  CHECK(shipped_regimes().size() == 5);
  CHECK(std::is_sorted(shipped_regimes().begin(), shipped_regimes().end(),
                       [](const Shipped& a, const Shipped& b) { return a.name < b.name; }));
  for (const Shipped& file : shipped_regimes()) {
    CAPTURE(file.name);
    const auto regime = parse_regime(file.text);
    REQUIRE_MESSAGE(regime.ok(), (regime.ok() ? std::string{} : regime.error().message()));
    CHECK(regime->name == file.name);
    CHECK_FALSE(regime->inspections.empty());
  }
}

// United States: designated inspectors' site (seen). European Union: Regulation (EU) 2018/1139 Annex I (from memory).
TEST_CASE("the share asked for differs from regime to regime") {
  CHECK(shipped("us").share == Share::more_than_50);
  CHECK(shipped("eu").share == Share::at_least_51);
  CHECK(shipped("uk").share == Share::none);
  CHECK(contains(shipped("us").tasks[0].text, "Only tasks count for the finding, not hours"));
  CHECK(contains(shipped("australia").tasks[0].text, "no allowance for man-hours"));
}

TEST_CASE("a count beside the share asked for says both and leaves the finding to the authority") {
  ChecklistSum sum;
  sum.columns = {98, 0, 51, 51};
  CHECK(contains(share_sentence(shipped("us"), sum), "102 of 200 tenths, 51.0 %; asked for is more than 50 %"));
  CHECK(contains(share_sentence(shipped("us"), sum), "on that side of it. The finding is the authority's."));
  sum.columns = {99, 0, 50, 51};
  CHECK(contains(share_sentence(shipped("us"), sum), "on that side of it"));
  CHECK(contains(share_sentence(shipped("eu"), sum), "50.5 %; asked for is at least 51 %, so the count is below it"));
  CHECK(contains(share_sentence(shipped("uk"), sum), "no share asked for is known here"));
  CHECK(contains(share_sentence(shipped("us"), {}), "nothing to count"));
}
