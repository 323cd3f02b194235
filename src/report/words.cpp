#include "report/words.h"

#include <algorithm>
#include <array>

#include "base/text.h"
#include "report/clean.h"

namespace jigtime::report {
namespace {

using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

/// Length in `unit`s, half away from zero.
std::int64_t rounded_to(Length length, Length unit) { return scaled(length.count(), 1, unit.count()); }

std::string two_figures(double value) { return to_decimal_text(value, value < 0.95 ? 2 : value < 9.5 ? 1 : 0); }

std::string two_digits(std::int64_t number) { return (number < 10 ? "0" : "") + std::to_string(number); }

}  // namespace

std::string_view basis_words(journal::Basis basis) {
  switch (basis) {
    case journal::Basis::audio: return "by sound";
    case journal::Basis::clock: return "by its clock only";
    case journal::Basis::manual: return "by hand";
    case journal::Basis::none: return "not placed";
  }
  return "not placed";
}

std::string sigma_words(Length sigma) {
  if (sigma <= Length{0}) return "no doubt stated";
  if (sigma < std::chrono::microseconds{10}) return "± less than 0.01 ms";
  const double s = to_seconds(sigma);
  if (sigma < milliseconds{995}) return "± " + two_figures(s * 1e3) + " ms";
  if (sigma < seconds{120}) return "± " + two_figures(s) + " s";
  if (sigma < minutes{120}) return "± " + two_figures(s / 60) + " min";
  if (sigma < hours{48}) return "± " + two_figures(s / 3600) + " h";
  return "± " + two_figures(s / 86400) + " days";
}

std::string length_words(Length length) {
  if (length < Length{0}) return "-" + length_words(-length);
  if (length < milliseconds{100}) return std::to_string(rounded_to(length, milliseconds{1})) + " ms";
  if (length < milliseconds{9950}) return to_decimal_text(to_seconds(length), 1) + " s";
  const std::int64_t whole_seconds = rounded_to(length, seconds{1});
  if (whole_seconds < 60) return std::to_string(whole_seconds) + " s";
  if (whole_seconds < 3600) {
    return std::to_string(whole_seconds / 60) + " min" +
           (whole_seconds % 60 == 0 ? "" : " " + std::to_string(whole_seconds % 60) + " s");
  }
  const std::int64_t whole_minutes = rounded_to(length, minutes{1});
  return std::to_string(whole_minutes / 60) + " h" +
         (whole_minutes % 60 == 0 ? "" : " " + std::to_string(whole_minutes % 60) + " min");
}

std::string hours_words(Length length, journal::Rounding rounding) {
  switch (rounding) {
    case journal::Rounding::none: return to_short_clock_text(length);
    case journal::Rounding::minute: {
      const std::int64_t whole = rounded_to(length, minutes{1});
      return std::to_string(whole / 60) + ":" + two_digits(whole % 60);
    }
    case journal::Rounding::tenth_hour: {
      const std::int64_t tenths = rounded_to(length, minutes{6});
      return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + " h";
    }
    case journal::Rounding::quarter_hour: {
      const std::int64_t quarters = rounded_to(length, minutes{15});
      return std::to_string(quarters / 4) + "." + two_digits(quarters % 4 * 25) + " h";
    }
  }
  return to_short_clock_text(length);
}

std::string_view rounding_words(journal::Rounding rounding) {
  switch (rounding) {
    case journal::Rounding::none: return "to the second";
    case journal::Rounding::minute: return "to the minute";
    case journal::Rounding::tenth_hour: return "to 0.1 h";
    case journal::Rounding::quarter_hour: return "to 0.25 h";
  }
  return "to the second";
}

std::string date_words(std::chrono::year_month_day date) {
  constexpr std::array days{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
  constexpr std::array months{"January", "February", "March",     "April",   "May",      "June",
                              "July",    "August",   "September", "October", "November", "December"};
  if (!date.ok()) return to_text(date);
  const std::chrono::weekday weekday{std::chrono::sys_days{date}};
  return std::string{days[weekday.c_encoding()]} + ", " + std::to_string(static_cast<unsigned>(date.day())) + " " +
         months[static_cast<unsigned>(date.month()) - 1] + " " + std::to_string(static_cast<int>(date.year()));
}

std::string count_words(std::size_t count, std::string_view one, std::string_view many) {
  return std::to_string(count) + " " + std::string{count == 1 ? one : many};
}

std::string amendment_words(const std::vector<journal::Entry>& amendments) {
  std::string text;
  for (const journal::Entry& entry : amendments) {
    text += (text.empty() ? "" : "\n") + std::string{"Entry "} + std::to_string(entry.number) + ", " +
            to_text(entry.sealed_at) + ": \"" + one_line(entry.before) + "\" should say \"" + one_line(entry.after) +
            "\". Reason: " + one_line(entry.reason);
  }
  return text;
}

std::string one_line(std::string_view text) {
  std::string line = clean(text);
  std::replace_if(
      line.begin(), line.end(), [](char c) { return c == '\n' || c == '\t'; }, ' ');
  return line;
}

}  // namespace jigtime::report
