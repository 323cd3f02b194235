#include "report/words.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::report;
using journal::Rounding;
using std::chrono::hours;
using std::chrono::microseconds;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

TEST_CASE("a standard error is said to two figures in the unit that fits") {
  CHECK(sigma_words(microseconds{400}) == "± 0.40 ms");
  CHECK(sigma_words(microseconds{2340}) == "± 2.3 ms");
  CHECK(sigma_words(milliseconds{80}) == "± 80 ms");
  CHECK(sigma_words(milliseconds{12'300}) == "± 12 s");
  CHECK(sigma_words(seconds{95}) == "± 95 s");
  CHECK(sigma_words(minutes{35}) == "± 35 min");
  CHECK(sigma_words(hours{13}) == "± 13 h");
  CHECK(sigma_words(hours{24 * 400}) == "± 400 days");
}

TEST_CASE("a standard error of nothing is not said to be exact") {
  CHECK(sigma_words(Length{0}) == "no doubt stated");
  CHECK(sigma_words(Length{-5}) == "no doubt stated");
  CHECK(sigma_words(Length{1}) == "± less than 0.01 ms");
}

TEST_CASE("a length is said in at most two units, carried where rounding fills one") {
  CHECK(length_words(Length{0}) == "0 ms");
  CHECK(length_words(milliseconds{40}) == "40 ms");
  CHECK(length_words(milliseconds{800}) == "0.8 s");
  CHECK(length_words(milliseconds{9'960}) == "10 s");
  CHECK(length_words(milliseconds{59'700}) == "1 min");
  CHECK(length_words(seconds{250}) == "4 min 10 s");
  CHECK(length_words(milliseconds{3'599'700}) == "1 h");
  CHECK(length_words(minutes{84}) == "1 h 24 min");
  CHECK(length_words(-minutes{84}) == "-1 h 24 min");
}

TEST_CASE("hours are written in the journal's unit") {
  const Length length = hours{1} + minutes{15};
  CHECK(hours_words(length + seconds{9}, Rounding::none) == "1:15:09");
  CHECK(hours_words(hours{2} + minutes{5}, Rounding::minute) == "2:05");
  CHECK(hours_words(hours{2} + minutes{6}, Rounding::tenth_hour) == "2.1 h");
  CHECK(hours_words(length, Rounding::quarter_hour) == "1.25 h");
  CHECK(hours_words(Length{0}, Rounding::quarter_hour) == "0.00 h");
}

TEST_CASE("a date is written out, and what is no date is left as it stands") {
  using namespace std::chrono;
  CHECK(date_words(year{2026} / 3 / 14) == "Saturday, 14 March 2026");
  CHECK(date_words(year{2024} / 2 / 29) == "Thursday, 29 February 2024");
  CHECK(date_words(year{2026} / 2 / 30) == "2026-02-30");
}

TEST_CASE("one line of text stays one line") {
  CHECK(one_line("a\nb\tc\x01"
                 "d\xFF") == "a b c d\xEF\xBF\xBD");
}
