#include "actions/checklists.h"

#include <doctest/doctest.h>

#include <fstream>

#include "actions/desk.h"
#include "actions/regimes.h"
#include "actions/shop.h"
#include "support/temp_folder.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::actions;
using jigtime::test::contains;
using jigtime::test::Desk;
using jigtime::test::TempFolder;

namespace {

const std::string own =
    "jigtime checklist 1\nname: own\ntitle: Own\nsource: Mine.\nofficial: no\n"
    "1 | 5 3 0 2 | First\n2 | 9 0 1 0 | Second\n3 | 0 0 4 6 | Third\n4 | 0 10 0 0 | Fourth\n";

std::filesystem::path written(const TempFolder& folder, const std::string& text) {
  std::ofstream{folder / "list.txt"} << text;
  return folder / "list.txt";
}

ChecklistChange from_file(const std::filesystem::path& file) {
  ChecklistChange change;
  change.file = file;
  return change;
}

}  // namespace

// The four splits and their sums: one is published in the checklist of 2011 (seen), the rest is arithmetic.
TEST_CASE("a list of the builder's own is read, added up, and given back as the same text") {
  Desk desk;
  const TempFolder folder;
  REQUIRE(change_checklist(desk.store, from_file(written(folder, own))));
  const auto view = view_checklist(desk.store, "");
  REQUIRE(view);
  CHECK(view->sum.columns == handbook::Tenths{14, 13, 5, 8});
  CHECK(view->sum.percent(view->sum.builder()) == doctest::Approx(32.5));
  CHECK(contains(view->sentences.at(0), "no authority's own form"));
  CHECK(contains(view->sentences.at(1), "Tasks, not hours, carry a finding"));
  CHECK_FALSE(view->caution.empty());
  REQUIRE(change_checklist(desk.store, from_file(written(folder, *checklist_text(desk.store, "own")))));
  CHECK(view_checklist(desk.store, "own")->sum.columns == handbook::Tenths{14, 13, 5, 8});
}

TEST_CASE("rows are split, left out and carried by tasks in one edit, or nothing is changed") {
  Desk desk;
  REQUIRE(add_task(desk.store, {"Rivet skin", "", "", "", {}}));
  ChecklistChange change;
  change.use = "metal-starter";
  change.split = {{"3.6", "2,0,8,0"}, {"3.5", "0 0 0 9"}};
  change.left_out = {"9.1"};
  change.carried = {{"3.6", "Rivet skin"}};
  const auto refused = change_checklist(desk.store, change);
  REQUIRE_FALSE(refused);
  CHECK(contains(refused.error().message(), "row 3.5: 0 0 0 9 makes 9 tenths"));
  CHECK(desk.store.known()->checklists.empty());

  change.split.pop_back();
  REQUIRE(change_checklist(desk.store, change));
  const auto view = view_checklist(desk.store, "metal-starter");
  CHECK(view->sum.builder() == 8);
  CHECK(view->sum.left_out == 1);
  int carried = 0;
  for (const auto& row : view->rows) {
    if (row.line.number == "3.6") CHECK(row.tasks == std::vector<std::string>{"Rivet skin"});
    carried += static_cast<int>(row.tasks.size());
  }
  CHECK(carried == 1);
}

TEST_CASE("a list read again keeps the rows that tasks carry, and is refused when one would be gone") {
  Desk desk;
  const TempFolder folder;
  REQUIRE(add_task(desk.store, {"Rivet skin", "", "", "", {}}));
  ChecklistChange change = from_file(written(folder, own));
  change.carried = {{"2", "Rivet skin"}};
  REQUIRE(change_checklist(desk.store, change));
  std::string text = own;
  text.replace(text.find("2 | 9 0 1 0 | Second"), 20, "2 | 0 0 0 10 | Other");
  REQUIRE(change_checklist(desk.store, from_file(written(folder, text))));
  CHECK(view_checklist(desk.store, "own")->rows.at(1).tasks == std::vector<std::string>{"Rivet skin"});
  CHECK(view_checklist(desk.store, "own")->sum.columns == handbook::Tenths{5, 13, 4, 18});
  text.replace(text.find("2 | 0 0 0 10 | Other"), 20, "5 | 0 0 0 10 | Other");
  const auto refused = change_checklist(desk.store, from_file(written(folder, text)));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().code() == Code::conflict);
  CHECK(view_checklist(desk.store, "own")->rows.at(1).line.title == "Other");
}

TEST_CASE("what is not there is refused with what there is") {
  Desk desk;
  const TempFolder folder;
  ChecklistChange change;
  CHECK(contains(view_checklist(desk.store, "").error().message(), "has no checklist yet"));
  change.use = "official";
  CHECK(contains(change_checklist(desk.store, change).error().message(), "there is metal-starter"));
  change.use = "metal-starter";
  REQUIRE(change_checklist(desk.store, change));
  CHECK(change_checklist(desk.store, change).error().code() == Code::conflict);
  change.use.clear();
  change.split = {{"99", "10,0,0,0"}};
  CHECK(contains(change_checklist(desk.store, change).error().message(), "has no row \"99\""));
  change.split.clear();
  change.carried = {{"1.1", "Nobody's task"}};
  CHECK(contains(change_checklist(desk.store, change).error().message(), "no task \"Nobody's task\""));
  CHECK(change_checklist(desk.store, from_file(folder / "none.txt")).error().code() == Code::not_found);
  const auto bad = change_checklist(desk.store, from_file(written(folder, own + "5 | 1 1 1 1 | Bad\n")));
  CHECK(contains(bad.error().message(), "line 10: 1 1 1 1 makes 4 tenths"));
  CHECK(contains(view_checklist(desk.store, "mine").error().message(), "it has metal-starter"));
  REQUIRE(change_checklist(desk.store, from_file(written(folder, own))));
  CHECK(contains(view_checklist(desk.store, "").error().message(), "Say which: --list NAME"));
}

TEST_CASE("a list beside a chosen regime says how its count stands to the share asked for") {
  Desk desk;
  const TempFolder folder;
  REQUIRE(change_checklist(desk.store, from_file(written(folder, own))));
  REQUIRE(use_regime(desk.store, "us"));
  const auto view = view_checklist(desk.store, "own");
  CHECK(contains(view->sentences.at(1), "13 of 40 tenths, 32.5 %; asked for is more than 50 %"));
  CHECK(contains(view->sentences.at(2), "Only tasks count for the finding, not hours"));
}
