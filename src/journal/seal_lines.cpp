#include "journal/seal_lines.h"

#include "base/text.h"

namespace jigtime::journal {
namespace {

std::string nine_digits(std::int64_t nanos) {
  std::string digits = std::to_string(nanos);
  return std::string(9 - digits.size(), '0') + digits;
}

constexpr std::int64_t second_in_ns = 1'000'000'000;

}  // namespace

void Lines::add(std::string_view key, std::string_view value) {
  text_ += key;
  text_ += ": ";
  text_ += escaped(value);
  text_ += '\n';
}

void Lines::add(const Numbered& at, std::string_view key, std::string_view value) {
  add(at.key() + " " + std::string{key}, value);
}

void Lines::add(const Numbered& at, std::string_view key, std::int64_t value) { add(at, key, std::to_string(value)); }

void write_each(Lines& lines, const Numbered& at, std::string_view what, const std::vector<std::string>& values) {
  int number = 0;
  for (const std::string& value : values) lines.add(at, Numbered{what, ++number}.key(), value);
}

std::string exact_text(Length length) {
  const bool negative = length < Length{0};
  const Length size = negative ? -length : length;
  const auto whole = std::chrono::floor<std::chrono::seconds>(size);
  return (negative ? "-" : "") + to_short_clock_text(whole) + "." + nine_digits((size - whole).count());
}

std::string exact_text(WallTime time) {
  const auto whole = std::chrono::floor<std::chrono::seconds>(time);
  std::string text = jigtime::to_text(WallTime{whole});
  text.pop_back();
  return text + "." + nine_digits((time - whole).count() % second_in_ns) + "Z";
}

std::string_view kind_text(ClockKind kind) {
  switch (kind) {
    case ClockKind::utc: return "utc";
    case ClockKind::local: return "local";
    case ClockKind::time_of_day: return "time of day";
  }
  return "utc";
}

std::string escaped(std::string_view value) {
  std::string text;
  for (const char c : value) {
    switch (c) {
      case '\\': text += "\\\\"; break;
      case '\n': text += "\\n"; break;
      case '\r': text += "\\r"; break;
      default: text += c;
    }
  }
  // A file name may be any bytes; the entry is UTF-8. Well-formed values pass unchanged.
  return is_utf8(text) ? text : to_utf8(text);
}

std::string unescaped(std::string_view value) {
  std::string text;
  for (std::size_t i = 0; i < value.size(); ++i) {
    if (value[i] != '\\' || i + 1 == value.size()) {
      text += value[i];
      continue;
    }
    ++i;
    text += value[i] == 'n' ? '\n' : value[i] == 'r' ? '\r' : value[i];
  }
  return text;
}

}  // namespace jigtime::journal
