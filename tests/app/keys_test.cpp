#include "app/view/keys.h"

#include <doctest/doctest.h>

#include <set>
#include <tuple>

using namespace jigtime::app;

TEST_CASE("no key means two things on one screen") {
  std::set<std::tuple<int, bool, bool>> taken;
  for (const KeyLine& line : all_keys()) {
    CAPTURE(key_text(line.press));
    CHECK(taken.insert({line.press.key, line.press.shift, line.press.control}).second);
  }
}

TEST_CASE("every key of the list does what the list says") {
  for (const KeyLine& line : all_keys()) {
    CAPTURE(key_text(line.press));
    const auto meaning = deed_for(line.press, line.where);
    REQUIRE(meaning);
    CHECK(meaning->deed == line.deed);
  }
}

TEST_CASE("number keys choose tasks and, with Shift, people") {
  CHECK(deed_for({'3'}, Where::bench) == Meaning{Deed::recent_task, 2});
  CHECK(deed_for({'9', true}, Where::bench) == Meaning{Deed::person, 8});
  CHECK_FALSE(deed_for({'3'}, Where::everywhere));
}

TEST_CASE("keys of the bench do nothing elsewhere, keys of everywhere hold at the bench") {
  CHECK_FALSE(deed_for({'B'}, Where::everywhere));
  CHECK(deed_for({'Z', false, true}, Where::bench)->deed == Deed::undo);
}

TEST_CASE("plus is plus with or without Shift, and a key that means nothing does nothing") {
  CHECK(deed_for({'=', true}, Where::bench)->deed == Deed::zoom_in);
  CHECK(deed_for({'=', true, true}, Where::everywhere)->deed == Deed::bigger);
  CHECK_FALSE(deed_for({'Q'}, Where::bench));
  CHECK_FALSE(deed_for({'B', false, true}, Where::bench));
}

TEST_CASE("keys are shown by their names") {
  CHECK(key_text({'Z', true, true}) == "Ctrl+Shift+Z");
  CHECK(key_text({key_page_down}) == "Page Down");
  CHECK(key_text({'=', false, true}) == "Ctrl and +");
  CHECK(key_text({'-', false, true}) == "Ctrl and -");
  CHECK(key_text({'='}) == "+");
  CHECK(key_of(Deed::begin) == "B");
  CHECK(key_of(Deed::none).empty());
}
