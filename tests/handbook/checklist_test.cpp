#include "handbook/checklist.h"

#include <doctest/doctest.h>

#include <tuple>

#include "handbook/shipped.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::handbook;

namespace {

const std::string head = "jigtime checklist 1\nname: mine\ntitle: My list\nsource: Mine.\nofficial: no\n";

std::string refusal(const std::string& text) {
  const auto list = parse_checklist(text);
  REQUIRE_FALSE(list.ok());
  CHECK(list.error().code() == Code::invalid);
  return list.error().message();
}

ChecklistSum summed(const std::string& rows) { return sum_of(parse_checklist(head + rows)->rows); }

}  // namespace

TEST_CASE("a list is read with its sections, its rows that do not apply and its tenths") {
  const auto list = parse_checklist(head +
                                    "# a comment\n\n1 | 5 3 0 2 | First\nsection: Wing, left\n"
                                    "1.1|0,0,10,0|Rivet skins: upper\n  X9 | N/A | Fabric  \r\n");
  REQUIRE_MESSAGE(list.ok(), (list.ok() ? std::string{} : list.error().message()));
  CHECK(list->name == "mine");
  CHECK_FALSE(list->official);
  REQUIRE(list->rows.size() == 3);
  CHECK(list->rows[0] == ChecklistRow{"1", "First", "", true, {5, 3, 0, 2}});
  CHECK(list->rows[1] == ChecklistRow{"1.1", "Rivet skins: upper", "Wing, left", true, {0, 0, 10, 0}});
  CHECK(list->rows[2] == ChecklistRow{"X9", "Fabric", "Wing, left", false, {0, 0, 0, 0}});
}

// The split 0.5 + 0.3 + 0.2 is published in the checklist of 2011 (seen); the sums are arithmetic.
TEST_CASE("columns, shares and the half are counted in whole tenths") {
  struct Row {
    const char* what;
    const char* rows;
    Tenths columns;
    int total;
    double percent;
    bool more_than_half;
  };
  const Row rows[] = {
      {"published split alone", "1|5 3 0 2|a\n", {5, 3, 0, 2}, 10, 20.0, false},
      {"four tasks", "1|5 3 0 2|a\n2|9 0 1 0|b\n3|0 0 4 6|c\n4|0 10 0 0|d\n", {14, 13, 5, 8}, 40, 32.5, false},
      {"exactly half", "1|10 0 0 0|a\n2|10 0 0 0|b\n3|0 0 10 0|c\n4|0 0 0 10|d\n", {20, 0, 10, 10}, 40, 50.0, false},
      {"half plus a tenth", "1|10 0 0 0|a\n2|9 0 1 0|b\n3|0 0 10 0|c\n4|0 0 0 10|d\n", {19, 0, 11, 10}, 40, 52.5, true},
      {"one N/A beside exactly half",
       "1|10 0 0 0|a\n2|10 0 0 0|b\n3|0 0 10 0|c\n4|0 0 0 10|d\n5|N/A|e\n",
       {20, 0, 10, 10},
       40,
       50.0,
       false},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    const ChecklistSum sum = summed(row.rows);
    CHECK(sum.columns == row.columns);
    CHECK(sum.total() == row.total);
    CHECK(sum.percent(sum.builder()) == doctest::Approx(row.percent).epsilon(1e-12));
    CHECK(sum.more_than(50) == row.more_than_half);
  }
}

TEST_CASE("at least 51 hundredths is reached at 51 and not at 50.9") {
  ChecklistSum sum;
  sum.columns = {490, 0, 255, 255};
  CHECK(sum.at_least(51));
  sum.columns = {491, 0, 254, 255};
  CHECK_FALSE(sum.at_least(51));
  CHECK(sum.more_than(50));
  CHECK_FALSE(ChecklistSum{}.at_least(51));
  CHECK_FALSE(ChecklistSum{}.more_than(50));
  CHECK(ChecklistSum{}.percent(0) == doctest::Approx(0));
}

TEST_CASE("a split that is not ten whole tenths is refused, and the message says by how much") {
  const std::pair<const char*, const char*> rows[] = {
      {"5 3 0 1", "makes 9 tenths"},
      {"5,5,1,0", "makes 11 tenths"},
      {"11 0 0 -1", "-1 tenths cannot be"},
      {"0.25 0 0 9", "\"0.25\" is no whole number of tenths"},
      {"0.5 0.3 0 0.2", "half a point is written 5"},
      {"5 3 2", "split over four columns"},
      {"", "split over four columns"},
      {"5 3 0 2 0", "split over four columns"},
      {"a 3 0 2", "\"a\" is no whole number"},
      {"100 0 0 0", "100 tenths are more than a point has"},
      {"99 0 0 0", "makes 99 tenths"},
      {"99999999999 0 0 0", "more than a point has"},
      {"+10 0 0 0", "no whole number"},
  };
  for (const auto& [text, fragment] : rows) {
    CAPTURE(text);
    const auto tenths = parse_tenths(text);
    REQUIRE_FALSE(tenths.ok());
    CHECK(tenths.error().code() == Code::invalid);
    CHECK_MESSAGE(contains(tenths.error().message(), fragment), tenths.error().message());
  }
  CHECK(*parse_tenths(" 5, 3 ,0,2 ") == Tenths{5, 3, 0, 2});
}

TEST_CASE("every bad line is named with its number") {
  const std::string text = refusal(head +
                                   "1 | 5 3 0 1 | a\n1 | 10 0 0 0 | ok\n1 | N/A | again\n | N/A | b\n2 | N/A |\n"
                                   "3 | N/A\nwhat is this\ncolour: red\nname: twice\n4 | n/a | lower case\n");
  for (const char* part :
       {"line 6: 5 3 0 1 makes 9 tenths", "line 7: number 1 stands in line 6 too", "line 8: number 1 stands in line 6",
        "line 9: the row's number is missing", "line 10: the row's title is missing", "line 11: a row is",
        "line 12: it is neither", "line 13: there is no key \"colour\"", "line 14: \"name\" stands there twice",
        "line 15: a point is split over four columns"}) {
    CAPTURE(part);
    CHECK_MESSAGE(contains(text, part), text);
  }
}

TEST_CASE("a file without its first line, its keys or any row is refused") {
  CHECK(contains(refusal(""), "line 1: the file must begin with the line \"jigtime checklist 1\""));
  CHECK(contains(refusal("jigtime checklist 2\n"), "line 1"));
  const std::string bare = refusal("jigtime checklist 1\n");
  for (const char* key : {"name", "title", "source", "official"})
    CHECK(contains(bare, "\"" + std::string{key} + ": ..."));
  CHECK(contains(refusal(head), "line 5: the file ends without a row"));
  CHECK(contains(refusal("jigtime checklist 1\nname: Big Name\n"), "small letters"));
  CHECK(contains(refusal("jigtime checklist 1\nofficial: perhaps\n"), "official is yes or no"));
  CHECK(contains(refusal(head + "1 | N/A | \x01\n"), "control character"));
  CHECK(contains(refusal(head + "\xff"), "not in UTF-8"));
  CHECK(contains(refusal(std::string(1'000'001, 'x')), "above 1 MB"));
}

TEST_CASE("no more than twenty faults are told, and how many more there are") {
  std::string rows;
  for (int i = 0; i < 30; ++i) rows += "what\n";
  CHECK(contains(refusal(head + rows), "and 11 more."));
}

TEST_CASE("a list written as text reads back as itself") {
  for (const Shipped& shipped : shipped_checklists()) {
    const auto list = parse_checklist(shipped.text);
    CAPTURE(shipped.name);
    REQUIRE_MESSAGE(list.ok(), (list.ok() ? std::string{} : list.error().message()));
    CHECK(*parse_checklist(to_text(*list)) == *list);
  }
}

TEST_CASE("the list that is shipped says that it is ours and not official, and credits nothing to the builder") {
  REQUIRE(shipped_checklists().size() == 1);
  const auto list = parse_checklist(shipped_checklists()[0].text);
  CHECK(list->name == shipped_checklists()[0].name);
  CHECK_FALSE(list->official);
  CHECK(contains(list->title, "not official"));
  CHECK(list->rows.size() > 40);
  CHECK(sum_of(list->rows).builder() == 0);
}

TEST_CASE("half of a list cut off anywhere is refused or read, and never harms") {
  const std::string whole{shipped_checklists()[0].text.substr(0, 3000)};
  for (std::size_t at = 0; at < whole.size(); at += 7) static_cast<void>(parse_checklist(whole.substr(0, at)));
}
