#include "report/clean.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace jigtime;
using namespace jigtime::report;

TEST_CASE("words keep their letters in every script and lose what would turn the text around") {
  CHECK(clean("Écrou, 鷺, רותם, ✈️") == "Écrou, 鷺, רותם, ✈️");
  CHECK(clean("a\xE2\x80\xAE"
              "b") ==
        "a\xEF\xBF\xBD"
        "b");
  CHECK(clean("a\xFF"
              "b\x01"
              "c\nd") ==
        "a\xEF\xBF\xBD"
        "b c\nd");
  CHECK(clean("a\uFFFE\u2067\u05D0\u2069b\u2028c\u202A") == "a\uFFFD\u05D0b\nc");
}

TEST_CASE("a file name stays in its folder whatever it was made from") {
  CHECK(safe_file_name("BN_0041.MP4") == "BN_0041.MP4");
  CHECK(safe_file_name("../../etc/passwd") == "_.._etc_passwd");
  CHECK(safe_file_name("..") == "unnamed");
  CHECK(safe_file_name("") == "unnamed");
  CHECK(safe_file_name("a b:c*?|\n") == "a_b_c____");
  CHECK(safe_file_name(".hidden") == "hidden");
  CHECK(safe_file_name("ends.") == "ends");
}

TEST_CASE("a file name too long is cut between characters") {
  std::string name;
  for (int i = 0; i < 50; ++i) name += "鷺";
  const std::string safe = safe_file_name(name, 80);
  CHECK(safe.size() == 78);
  CHECK(is_utf8(safe));
}
