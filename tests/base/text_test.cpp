#include "base/text.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace std::chrono_literals;

TEST_CASE("times are written H:MM:SS.mmm, rounded to the nearest millisecond") {
  CHECK(to_clock_text(Length{0}) == "0:00:00.000");
  CHECK(to_clock_text(1h + 2min + 3s + 4ms) == "1:02:03.004");
  CHECK(to_clock_text(59min + 59s + 999'500us) == "1:00:00.000");
  CHECK(to_clock_text(123h) == "123:00:00.000");
  CHECK(to_clock_text(-1500ms) == "-0:00:01.500");
  CHECK(to_clock_text(-400us) == "0:00:00.000");
  CHECK(to_short_clock_text(89min + 59s + 600ms) == "1:30:00");
}

TEST_CASE("times are read as they are written, with up to nine decimals") {
  CHECK(parse_clock_text("0:00:00") == Length{0});
  CHECK(parse_clock_text("1:02:03.004") == Length{1h + 2min + 3s + 4ms});
  CHECK(parse_clock_text(" 10:00:00.5 ") == Length{10h + 500ms});
  CHECK(parse_clock_text("0:00:00.123456789") == Length{123456789});
}

TEST_CASE("what is nearly a time is refused") {
  for (const char* text :
       {"", "1", "1:02", "1:2:03", "1:02:3", "1:60:00", "1:00:60", "-1:00:00", "1:00:00.", "1:00:00.1234567890",
        "1:00:00,5", "a:00:00", "1:00:00x", "1:00:0 0", "9999999:00:00", "1::00", ":00:00", "1:00:00:00"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_clock_text(text));
  }
}

TEST_CASE("dates are read strictly and must exist") {
  CHECK(to_text(*parse_date("2026-03-14")) == "2026-03-14");
  CHECK(parse_date("2028-02-29"));
  for (const char* text :
       {"2026-02-29", "2026-13-01", "2026-00-10", "2026-3-14", "26-03-14", "2026/03/14", "2026-03-14T00", ""}) {
    CAPTURE(text);
    CHECK_FALSE(parse_date(text));
  }
}

TEST_CASE("wall times are written as RFC 3339 in UTC") {
  // RFC 3339 section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z.
  const auto day = std::chrono::sys_days{std::chrono::year{1996} / 12 / 20};
  CHECK(to_text(WallTime{day + 39min + 57s}) == "1996-12-20T00:39:57Z");
  CHECK(to_text(WallTime{-1s}) == "1969-12-31T23:59:59Z");
}

TEST_CASE("splitting keeps empty fields") {
  CHECK(split("a,,b", ',') == std::vector<std::string>{"a", "", "b"});
  CHECK(split("", ',') == std::vector<std::string>{""});
}

TEST_CASE("words are listed as people say them") {
  const std::vector<std::string> words{"a", "b", "c"};
  CHECK(listed(std::span{words}.first(0)).empty());
  CHECK(listed(std::span{words}.first(1)) == "a");
  CHECK(listed(words) == "a, b and c");
}

TEST_CASE("bytes that are no UTF-8 are known and made harmless") {
  CHECK(is_utf8("Grün ✓ 𝄞"));
  for (const char* bytes : {"\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xFF", "a\xC3", "\x80"}) {
    CHECK_FALSE(is_utf8(bytes));
    CHECK(is_utf8(to_utf8(bytes)));
  }
  CHECK(to_utf8("a\xFF"
                "b") ==
        "a\xEF\xBF\xBD"
        "b");
  CHECK(to_utf8("one\x1B[2Jtwo\n") == "one [2Jtwo\n");
}

TEST_CASE("decimals are written with a point and never as minus zero") {
  CHECK(to_decimal_text(1.25, 1) == "1.2");
  CHECK(to_decimal_text(-0.01, 1) == "0.0");
  CHECK(to_decimal_text(1234.5, 2) == "1234.50");
}
