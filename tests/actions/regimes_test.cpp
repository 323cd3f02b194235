#include "actions/regimes.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

#include "actions/desk.h"
#include "support/temp_folder.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::actions;
using jigtime::test::contains;
using jigtime::test::Desk;
using jigtime::test::TempFolder;

namespace {

/// Settings of the program in a folder of the test's own.
struct Settings {
  TempFolder folder;
  Settings() { setenv("XDG_CONFIG_HOME", folder.path().c_str(), 1); }
  ~Settings() { unsetenv("XDG_CONFIG_HOME"); }
};

const std::string own =
    "jigtime regime 1\nname: island\ntitle: An island\nshare: at least 51\nfinding: Theirs. | A | seen\n"
    "tasks: Tasks count. | A | seen\nrecord: Who. | A | seen\ninspection: pre-cover | Before closing. | A | seen\n";

}  // namespace

TEST_CASE("a journal without a regime says so, and one that is chosen is told with its stages") {
  const Settings settings;
  Desk desk;
  CHECK(contains(view_regime(desk.store)->sentences.at(0), "No regime was chosen yet"));
  REQUIRE(use_regime(desk.store, "canada"));
  CHECK(desk.store.build()->regime == "canada");
  REQUIRE(desk.store.edit("inspect", [&](store::Edit& edit) -> Done {
    const auto day = std::chrono::year{2026} / 3 / 14;
    const auto added =
        edit.add(journal::Inspection{{}, day, "Kees", "12", "left wing, open", "two gaps", "pre-cover", {}, {}, {}});
    return added ? Done{} : Done{added.error()};
  }));
  const auto view = view_regime(desk.store);
  REQUIRE(view->regime);
  REQUIRE(view->stages.size() == 2);
  CHECK(view->stages[0].wanted.name == "pre-cover");
  CHECK(view->stages[0].held == std::vector<std::string>{"2026-03-14, Kees (12), left wing, open, not cleared yet"});
  CHECK(view->stages[1].held.empty());
  CHECK(contains(view->sentences.at(0), "no checklist to count"));
}

TEST_CASE("a regime that is not known is refused with those there are") {
  const Settings settings;
  Desk desk;
  for (const char* name : {"moon", "", "../us", "US"}) {
    CAPTURE(name);
    const Done used = use_regime(desk.store, name);
    REQUIRE_FALSE(used);
    CHECK(used.error().code() == Code::not_found);
    CHECK(contains(used.error().message(), "australia, canada, eu, uk and us"));
  }
}

TEST_CASE("a regime of the builder's own lies in the journal and is known on a computer without it") {
  Desk desk;
  {
    const Settings settings;
    std::ofstream{settings.folder / "mine.txt"} << own;
    REQUIRE(*import_regime(settings.folder / "mine.txt") == "island");
    REQUIRE(use_regime(desk.store, "island"));
    CHECK(view_regime(desk.store)->regime->title == "An island");
    CHECK(known_regimes().size() == 6);
  }
  const Settings other;
  const auto view = view_regime(desk.store);
  REQUIRE(view->regime);
  CHECK(view->regime->title == "An island");
  CHECK(known_regimes().size() == 5);
}

TEST_CASE("a bad text is refused line by line and not kept") {
  const Settings settings;
  std::ofstream{settings.folder / "mine.txt"} << own << "rule: x | y | seen\n";
  const auto imported = import_regime(settings.folder / "mine.txt");
  REQUIRE_FALSE(imported);
  CHECK(contains(imported.error().message(), "line 9: there is no key \"rule\""));
  CHECK(import_regime(settings.folder / "none.txt").error().code() == Code::not_found);
  CHECK(known_regimes().size() == 5);
}

TEST_CASE("a regime of the builder's own lies in the journal: another computer tells it without that text") {
  Desk desk;
  {
    const Settings settings;
    std::ofstream{settings.folder / "mine.txt"} << own;
    REQUIRE(*use_regime_file(desk.store, settings.folder / "mine.txt") == "island");
  }
  const Settings elsewhere;
  CHECK(!find_regime("island"));
  const auto view = view_regime(desk.store);
  REQUIRE(view->regime);
  CHECK(view->regime->title == "An island");
  CHECK(view->stages.size() == 1);
  CHECK(desk.store.build()->regime_text == own);
}

TEST_CASE("a shipped regime lies in the journal once it is chosen, and another text of its name here is told") {
  const Settings settings;
  Desk desk;
  REQUIRE(use_regime(desk.store, "us"));
  CHECK(contains(desk.store.build()->regime_text, "jigtime regime 1"));
  const std::size_t sentences = view_regime(desk.store)->sentences.size();
  std::string other = own;
  other.replace(other.find("island"), 6, "us");
  std::ofstream{settings.folder / "mine.txt"} << other;
  REQUIRE(import_regime(settings.folder / "mine.txt"));
  const auto view = view_regime(desk.store);
  CHECK(view->regime->title != "An island");
  REQUIRE(view->sentences.size() == sentences + 1);
  CHECK(contains(view->sentences[0], "To take that one: --use us"));
  REQUIRE(use_regime(desk.store, "us"));
  CHECK(view_regime(desk.store)->regime->title == "An island");
  REQUIRE(desk.store.undo());
  CHECK(view_regime(desk.store)->regime->title != "An island");
}

TEST_CASE("a journal that has only a regime's name tells it where this computer knows it, else how to read it") {
  const Settings settings;
  Desk desk;
  journal::Build build = *desk.store.build();
  build.regime = "us";
  REQUIRE(desk.store.edit("old", [&](store::Edit& edit) { return edit.set_build(build); }));
  CHECK(view_regime(desk.store)->regime);
  build.regime = "island";
  REQUIRE(desk.store.edit("old", [&](store::Edit& edit) { return edit.set_build(build); }));
  CHECK(!view_regime(desk.store)->regime);
  CHECK(contains(view_regime(desk.store)->sentences.at(0), "--import FILE"));
}

TEST_CASE("a regime's file that is wrong is refused and leaves the journal as it was") {
  const Settings settings;
  Desk desk;
  std::ofstream{settings.folder / "mine.txt"} << "jigtime regime 1\nname: island\n";
  CHECK(use_regime_file(desk.store, settings.folder / "mine.txt").error().code() == Code::invalid);
  CHECK(use_regime_file(desk.store, settings.folder / "none.txt").error().code() == Code::not_found);
  CHECK(desk.store.build()->regime.empty());
}
