#include <doctest/doctest.h>

#include "journal/rules.h"
#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

template <class Value>
struct Row {
  std::string fragment;
  void (*spoil)(Value&);
};

/// Every spoilt copy is refused with those words; the good one passes.
template <class Value>
void check_refusals(const Value& good, const std::vector<Row<Value>>& rows) {
  CHECK(check(good));
  for (const auto& [fragment, spoil] : rows) {
    CAPTURE(fragment);
    Value bad = good;
    spoil(bad);
    const Done refused = check(bad);
    REQUIRE(!refused);
    CHECK(refused.error().code() == Code::invalid);
    CHECK(refused.error().message().find(fragment) != std::string::npos);
  }
}

std::chrono::year_month_day march(unsigned day) { return std::chrono::year{2026} / 3 / std::chrono::day{day}; }

ChecklistLine line(std::array<int, 4> tenths, bool applicable = true) {
  return {{}, "E4", "Skins", "Empennage", applicable, tenths};
}

}  // namespace

// Vectors of the published rule that every line is one point, split in tenths over four columns, or does not apply:
// Amateur-Built Aircraft Fabrication and Assembly Checklist (2009, 2011), as its instructions say.
TEST_CASE("a line of a checklist is split into exactly ten tenths, or does not apply and has none") {
  for (const auto& tenths : std::vector<std::array<int, 4>>{{5, 3, 0, 2}, {9, 0, 1, 0}, {0, 0, 4, 6}, {0, 10, 0, 0}}) {
    CHECK(check(Checklist{{}, "a", "", "", false, {line(tenths)}}));
  }
  for (const auto& tenths : std::vector<std::array<int, 4>>{{5, 3, 0, 1}, {5, 5, 1, 0}, {11, -1, 0, 0}, {0, 0, 0, 0}}) {
    CHECK(!check(Checklist{{}, "a", "", "", false, {line(tenths)}}));
  }
  CHECK(check(Checklist{{}, "a", "", "", false, {line({0, 0, 0, 0}, false)}}));
  CHECK(!check(Checklist{{}, "a", "", "", false, {line({0, 0, 10, 0}, false)}}));
}

TEST_CASE("a checklist that breaks its form is refused with what to mend") {
  check_refusals<Checklist>(sample_register().checklists[0],
                            {{"name is empty", [](Checklist& l) { l.name = " "; }},
                             {"more than once", [](Checklist& l) { l.lines[1].number = l.lines[0].number; }},
                             {"has no title", [](Checklist& l) { l.lines[0].title = ""; }},
                             {"is split into 9 tenths", [](Checklist& l) { l.lines[0].tenths[0] = 3; }},
                             {"is empty", [](Checklist& l) { l.lines[0].number = ""; }}});
}

TEST_CASE("an open item that cannot be is refused with what to mend") {
  check_refusals<OpenItem>(sample_record().items[0],
                           {{"no words", [](OpenItem& i) { i.words = " "; }},
                            {"no date", [](OpenItem& i) { i.opened_on = {}; }},
                            {"has a time but no session",
                             [](OpenItem& i) {
                               i.session.reset();
                               i.mark.reset();
                             }},
                            {"has a mark but no session",
                             [](OpenItem& i) {
                               i.session.reset();
                               i.at.reset();
                             }},
                            {"lies outside its session", [](OpenItem& i) { i.at = at(-1ns); }},
                            {"before it was opened", [](OpenItem& i) { i.closing->on = march(13); }},
                            {"Name both or neither", [](OpenItem& i) { i.closing->session.reset(); }}});
}

TEST_CASE("an inspection that cannot be is refused with what to mend") {
  check_refusals<Inspection>(sample_record().inspections[0],
                             {{"name is empty", [](Inspection& i) { i.person = ""; }},
                              {"what was looked at", [](Inspection& i) { i.looked_at = "\n"; }},
                              {"no date", [](Inspection& i) { i.date = {}; }},
                              {"before the inspection", [](Inspection& i) { i.cleared_on = march(13); }},
                              {"has a time but no session", [](Inspection& i) { i.session.reset(); }},
                              {"is not UTF-8", [](Inspection& i) { i.findings = "\xFF"; }}});
}

TEST_CASE("a photo, a still and footage let go are refused when they cannot be") {
  check_refusals<Photo>(sample_photo(), {{"no path", [](Photo& p) { p.path.clear(); }},
                                         {"standard error", [](Photo& p) { p.sigma = -1ns; }},
                                         {"hundred years", [](Photo& p) { p.at = at(farthest + 1ns); }}});
  check_refusals<Still>(sample_record().stills[0], {{"no SHA-256", [](Still& s) { s.digest.pop_back(); }},
                                                    {"no SHA-256", [](Still& s) { s.digest[0] = 'G'; }},
                                                    {"outside its session", [](Still& s) { s.at = at(-1ns); }}});
  check_refusals<LetGo>({march(20), "The disk was full."},
                        {{"needs a reason", [](LetGo& l) { l.reason = " "; }},
                         {"no date", [](LetGo& l) { l.on = {}; }},
                         {"needs its path and its digest", [](LetGo& l) { l.kept_copy = "/copy.mp4"; }}});
}
