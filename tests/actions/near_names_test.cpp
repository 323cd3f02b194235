#include "actions/near_names.h"

#include <doctest/doctest.h>

using namespace jigtime::actions;

TEST_CASE("names that differ in case, blanks or accents are near, and in one accent's two spellings too") {
  // Unicode Standard Annex 15, figure 3: U+00E9 is the same as e and U+0301.
  CHECK(plain_name("Jos\u00E9") == plain_name("Jose\u0301"));
  CHECK(plain_name("Jos\u00E9") == plain_name("JOSE"));
  CHECK(plain_name("Zo\u00EB \u00C5str\u00F6m") == "zoeastrom");
  CHECK(plain_name("\u0141ukasz \u017Belazny") == "\u0141ukaszzelazny");
  CHECK(plain_name("J. M\u00FCller") != plain_name("J. Miller"));
}

TEST_CASE("other scripts and whatever bytes come in stay as they are") {
  for (const char* name : {"\u4F50\u85E4", "\u05E8\u05D5\u05EA\u05DD", "\u0416", "\U0001F527", "\xC3", "a\xFF"}) {
    CHECK(plain_name(name) == name);
  }
}

TEST_CASE("a near name is told with the command that makes one of the two, and the same name is none") {
  const std::string said = near_name_hint({"Mara", "Jos\u00E9"}, "jose", "person");
  CHECK(said ==
        " There is \"Jos\u00E9\" already; if it is the same: jigtime person JOURNAL merge \"jose\" --into "
        "\"Jos\u00E9\".");
  CHECK(near_name_hint({"Mara"}, "Mara", "person").empty());
  CHECK(near_name_hint({"Mara"}, "Maria", "person").empty());
}
