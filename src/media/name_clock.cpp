#include <array>
#include <cctype>
#include <chrono>
#include <cstdlib>
#include <string>

#include "media/civil.h"
#include "media/probe.h"

namespace jigtime::media {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Reads a name from left to right; every step may fail and then the whole attempt is given up.
class NameReader {
 public:
  NameReader(std::string_view name, std::size_t at) : name_{name}, at_{at} {}

  std::size_t at() const { return at_; }
  char peek() const { return at_ < name_.size() ? name_[at_] : '\0'; }
  std::size_t digits_ahead() const {
    std::size_t count = 0;
    while (at_ + count < name_.size() && is_digit(name_[at_ + count])) ++count;
    return count;
  }
  bool number(std::size_t digits, int& value) {
    if (digits_ahead() < digits) return false;
    value = 0;
    for (std::size_t i = 0; i < digits; ++i) value = value * 10 + (name_[at_++] - '0');
    return true;
  }
  /// One of `any_of`, or nothing ('\0') when none is there.
  char separator(std::string_view any_of) {
    if (peek() == '\0' || any_of.find(peek()) == std::string_view::npos) return '\0';
    return name_[at_++];
  }

 private:
  std::string_view name_;
  std::size_t at_;
};

/// 20260314, 2026-03-14, 2026_03_14 or 2026.03.14: the same separator twice, or none and then exactly eight digits
/// (or fourteen, with the time).
bool read_date(NameReader& name, CivilTime& time) {
  const std::size_t run = name.digits_ahead();
  if (run != 4 && run != 8 && run != 14) return false;
  if (!name.number(4, time.year)) return false;
  const char first = name.separator("-_.");
  if ((run == 4) != (first != '\0')) return false;
  if (!name.number(2, time.month)) return false;
  if (name.separator("-_.") != first) return false;
  return name.number(2, time.day);
}

/// What stands between date and time: "_", "-", " ", "T", ".", ", ", "_-_", " at ".
bool read_gap(NameReader& name) {
  std::size_t length = 0;
  while (length < 4 && name.separator("_- Tt.,a") != '\0') ++length;
  return length > 0;
}

/// 093012, 09-30-12, 09.30.12, 09_30_12, 09:30:12 or 09h30m12s.
bool read_time(NameReader& name, CivilTime& time) {
  if (!name.number(2, time.hour)) return false;
  const char first = name.separator("-_.:hH");
  if (!name.number(2, time.minute)) return false;
  const char second = name.separator("-_.:mM");
  const bool lettered = (first == 'h' || first == 'H') && (second == 'm' || second == 'M');
  if (first != second && !lettered) return false;
  if (!name.number(2, time.second)) return false;
  if (lettered) name.separator("sS");
  return true;
}

/// Thousandths right behind the seconds, or behind a dot, comma, dash or underscore.
std::optional<Length> read_thousandths(NameReader& name) {
  NameReader ahead = name;
  if (ahead.digits_ahead() == 0) ahead.separator(".,-_");
  if (ahead.digits_ahead() != 3) return std::nullopt;
  int thousandths = 0;
  ahead.number(3, thousandths);
  name = ahead;
  return std::chrono::milliseconds{thousandths};
}

std::optional<ClockReading> reading_at(std::string_view text, std::size_t at) {
  NameReader name{text, at};
  CivilTime time;
  const bool run_together = name.digits_ahead() == 14;
  if (!read_date(name, time)) return std::nullopt;
  if (!run_together && !read_gap(name)) return std::nullopt;
  if (!read_time(name, time)) return std::nullopt;
  const std::optional<Length> since = since_1970(time);
  if (!since) return std::nullopt;
  ClockReading reading{ClockSource::name, ClockKind::local, ClockEdge::begin, *since, std::chrono::seconds{1}, {}};
  if (const std::optional<Length> thousandths = read_thousandths(name)) {
    reading.since_epoch += *thousandths;
    reading.resolution = std::chrono::milliseconds{1};
  }
  if (name.separator("Zz") != '\0') reading.kind = ClockKind::utc;
  if (is_digit(name.peek())) return std::nullopt;
  reading.text = std::string{text.substr(at, name.at() - at)};
  return reading;
}

}  // namespace

std::optional<ClockReading> clock_in_name(std::string_view file_name) {
  for (std::size_t at = 0; at < file_name.size(); ++at) {
    if (!is_digit(file_name[at]) || (at > 0 && is_digit(file_name[at - 1]))) continue;
    if (std::optional<ClockReading> reading = reading_at(file_name, at)) return reading;
  }
  return std::nullopt;
}

}  // namespace jigtime::media
