#include "media/civil.h"

#include <chrono>

#include "base/text.h"

namespace jigtime::media {
namespace {

constexpr int first_year = 1971;
constexpr int last_year = 2099;

/// Takes exactly `digits` digits from the front; -1 (and nothing taken) when they are not there.
int take_number(std::string_view& text, std::size_t digits) {
  if (text.size() < digits) return -1;
  int value = 0;
  for (std::size_t i = 0; i < digits; ++i) {
    if (text[i] < '0' || text[i] > '9') return -1;
    value = value * 10 + (text[i] - '0');
  }
  text.remove_prefix(digits);
  return value;
}

bool take(std::string_view& text, std::string_view any_of) {
  if (text.empty() || any_of.find(text.front()) == std::string_view::npos) return false;
  text.remove_prefix(1);
  return true;
}

/// A fraction of up to nine digits; nothing when digits are missing or too many.
std::optional<Length> take_fraction(std::string_view& text, Length& step) {
  std::int64_t value = 0;
  std::int64_t digit = 1'000'000'000;
  while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
    if (digit == 1) return std::nullopt;
    digit /= 10;
    value += (text.front() - '0') * digit;
    text.remove_prefix(1);
  }
  if (digit == 1'000'000'000) return std::nullopt;
  step = Length{digit};
  return Length{value};
}

/// Z, +HH:MM, +HHMM or +HH, east of Greenwich positive.
std::optional<Length> take_zone(std::string_view& text) {
  if (take(text, "Zz")) return Length{0};
  const bool west = !text.empty() && text.front() == '-';
  if (!take(text, "+-")) return std::nullopt;
  const int hours = take_number(text, 2);
  take(text, ":");
  const int minutes = text.empty() ? 0 : take_number(text, 2);
  if (hours < 0 || hours > 14 || minutes < 0 || minutes > 59) return std::nullopt;
  const Length offset = std::chrono::hours{hours} + std::chrono::minutes{minutes};
  return west ? -offset : offset;
}

}  // namespace

std::optional<Length> since_1970(const CivilTime& time) {
  using namespace std::chrono;
  if (time.year < first_year || time.year > last_year || time.month < 1 || time.day < 1) return std::nullopt;
  const year_month_day date{year{time.year}, month{static_cast<unsigned>(time.month)},
                            day{static_cast<unsigned>(time.day)}};
  const auto within = [](int value, int below) { return value >= 0 && value < below; };
  if (!date.ok() || !within(time.hour, 24) || !within(time.minute, 60) || !within(time.second, 60)) {
    return std::nullopt;
  }
  return sys_days{date}.time_since_epoch() + hours{time.hour} + minutes{time.minute} + seconds{time.second};
}

std::optional<Stamp> parse_stamp(std::string_view text) {
  text = trimmed(text);
  CivilTime civil;
  civil.year = take_number(text, 4);
  if (!take(text, "-")) return std::nullopt;
  civil.month = take_number(text, 2);
  if (!take(text, "-")) return std::nullopt;
  civil.day = take_number(text, 2);
  if (!take(text, "Tt ")) return std::nullopt;
  civil.hour = take_number(text, 2);
  if (!take(text, ":")) return std::nullopt;
  civil.minute = take_number(text, 2);
  if (!take(text, ":")) return std::nullopt;
  civil.second = take_number(text, 2);
  const std::optional<Length> whole = since_1970(civil);
  if (!whole) return std::nullopt;
  Stamp stamp{*whole};
  if (take(text, ".,")) {
    Length step{0};
    const std::optional<Length> fraction = take_fraction(text, step);
    if (!fraction) return std::nullopt;
    stamp.since_epoch += *fraction;
    if (*fraction != Length{0}) stamp.resolution = step;
  }
  if (text.empty()) return stamp;
  const std::optional<Length> zone = take_zone(text);
  if (!zone || !text.empty()) return std::nullopt;
  stamp.since_epoch -= *zone;
  stamp.zone_known = true;
  return stamp;
}

}  // namespace jigtime::media
