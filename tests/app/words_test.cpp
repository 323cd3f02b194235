#include "app/view/words.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace jigtime::app;

TEST_CASE("values stand where their numbers stand, as often as they do") {
  CHECK(say(Word::short_several, {"3-4", "A and B"}).starts_with("3-4 could be A and B."));
  CHECK(say(Word::short_unknown, {"6-7"}).find("MS20426AD6-7") != std::string::npos);
}

TEST_CASE("a value that itself looks like a place is not filled in again") {
  CHECK(say(Word::undone, {"{0} {1}"}) == "Taken back: {0} {1}.");
}

TEST_CASE("a place without a value stays as it is") { CHECK(say(Word::undone, {}) == "Taken back: {0}."); }

TEST_CASE("every sentence is there and is UTF-8") {
  for (int i = 0; i <= static_cast<int>(Word::text_size); ++i) {
    const char* text = say(static_cast<Word>(i));
    CHECK(text[0] != '\0');
    CHECK(jigtime::is_utf8(text));
  }
}

TEST_CASE("one is one and the rest are many") {
  CHECK(counted(1, Word::span_deleted, Word::spans_deleted) == "1 span deleted.");
  CHECK(counted(0, Word::span_deleted, Word::spans_deleted) == "0 spans deleted.");
}
