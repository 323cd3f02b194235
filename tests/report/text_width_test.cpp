#include "report/text_width.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace jigtime::report;

TEST_CASE("a text that fits is left alone") {
  CHECK(fitted("bench", 200, 10, Shorten::end, 1) == "bench");
  CHECK(fitted("", 0, 10, Shorten::end, 1) == "");
}

TEST_CASE("a text that does not fit is shortened to the room, at its end or in its middle") {
  const std::string name = "20260314_092240_workshop_overhead.mov";
  const std::string end = fitted(name, 120, 10, Shorten::end, 4);
  const std::string middle = fitted(name, 120, 10, Shorten::middle, 4);
  CHECK(end.find("2026") == 0);
  CHECK(end.substr(end.size() - 3) == "…");
  CHECK(middle.find("2026") == 0);
  CHECK(middle.substr(middle.size() - 4) == ".mov");
  CHECK(text_width(end, 10) <= 120);
  CHECK(text_width(middle, 10) <= 120);
}

TEST_CASE("a text too long to be recognised is left out") {
  CHECK(fitted("Rivet elevator skin", 20, 10, Shorten::end, 8) == "");
  CHECK(fitted("W", -5, 10, Shorten::middle, 1) == "");
}

TEST_CASE("shortening never cuts a character in two") {
  const std::string text = "Höhenruder – 昇降舵 – элерон – 🛠🛠🛠🛠";
  for (double width = 0; width < 300; width += 3) {
    CHECK(jigtime::is_utf8(fitted(text, width, 10, Shorten::end, 1)));
    CHECK(jigtime::is_utf8(fitted(text, width, 10, Shorten::middle, 1)));
  }
}

// Advance widths in the packaged DejaVuSans.ttf, 2048 units an em.
TEST_CASE("the estimate is no narrower than the widest of the common fonts") {
  const std::pair<const char*, int> widths[] = {
      {"W", 2025}, {"m", 1995}, {"M", 1767}, {"@", 2048}, {"0", 1303}, {"a", 1255}, {"Q", 1612}, {"%", 1946},
      {"G", 1587}, {"o", 1253}, {"i", 569},  {" ", 651},  {"f", 721},  {"r", 842},  {"t", 803},  {"=", 1716},
      {"&", 1597}, {"±", 1716}, {"é", 1260}, {"Ж", 2206}, {"…", 2048}, {"_", 1024}, {"w", 1675}, {"N", 1532}};
  for (const auto& [letter, units] : widths) {
    CAPTURE(letter);
    CHECK(text_width(letter, 2048) >= units);
  }
}
