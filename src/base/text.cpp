#include "base/text.h"

#include <array>
#include <charconv>

#include "base/clock_reading.h"
#include "base/file_identity.h"

namespace jigtime {
namespace {

std::string padded(std::int64_t number, int width) {
  std::string digits = std::to_string(number);
  while (static_cast<int>(digits.size()) < width) digits.insert(digits.begin(), '0');
  return digits;
}

/// Between `least` and `most` digits and nothing else; -1 otherwise.
std::int64_t parse_digits(std::string_view text, std::size_t least, std::size_t most) {
  if (text.size() < least || text.size() > most) return -1;
  std::int64_t value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    value = value * 10 + (c - '0');
  }
  return value;
}

/// Length of the well-formed sequence at the front, 0 when there is none.
std::size_t utf8_length(std::string_view s) {
  const auto byte = [&](std::size_t i) { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0U; };
  const unsigned lead = byte(0);
  const auto follows = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return follows(1) ? 2 : 0;
  if (lead >= 0xE0 && lead <= 0xEF) {
    if (!follows(1) || !follows(2)) return 0;
    if (lead == 0xE0 && byte(1) < 0xA0) return 0;
    if (lead == 0xED && byte(1) > 0x9F) return 0;
    return 3;
  }
  if (lead >= 0xF0 && lead <= 0xF4) {
    if (!follows(1) || !follows(2) || !follows(3)) return 0;
    if (lead == 0xF0 && byte(1) < 0x90) return 0;
    if (lead == 0xF4 && byte(1) > 0x8F) return 0;
    return 4;
  }
  return 0;
}

}  // namespace

std::string to_clock_text(Length since_zero) {
  const bool negative = since_zero < Length{0};
  const std::int64_t ms = scaled(negative ? -since_zero.count() : since_zero.count(), 1, 1'000'000);
  return (negative && ms != 0 ? "-" : "") + std::to_string(ms / 3'600'000) + ":" + padded(ms / 60'000 % 60, 2) + ":" +
         padded(ms / 1000 % 60, 2) + "." + padded(ms % 1000, 3);
}

std::string to_short_clock_text(Length since_zero) {
  const bool negative = since_zero < Length{0};
  const std::int64_t s = scaled(negative ? -since_zero.count() : since_zero.count(), 1, 1'000'000'000);
  return (negative && s != 0 ? "-" : "") + std::to_string(s / 3600) + ":" + padded(s / 60 % 60, 2) + ":" +
         padded(s % 60, 2);
}

std::optional<Length> parse_clock_text(std::string_view text) {
  text = trimmed(text);
  const std::vector<std::string> fields = split(text, ':');
  if (fields.size() != 3) return std::nullopt;
  const std::string_view last = fields[2];
  const std::size_t dot = last.find('.');
  const std::int64_t hours = parse_digits(fields[0], 1, 6);
  const std::int64_t minutes = parse_digits(fields[1], 2, 2);
  const std::int64_t seconds = parse_digits(last.substr(0, dot), 2, 2);
  if (hours < 0 || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 59) return std::nullopt;
  std::int64_t nanos = 0;
  if (dot != std::string_view::npos) {
    std::string digits{last.substr(dot + 1)};
    if (parse_digits(digits, 1, 9) < 0) return std::nullopt;
    digits.resize(9, '0');
    nanos = parse_digits(digits, 9, 9);
  }
  const Length length =
      std::chrono::hours{hours} + std::chrono::minutes{minutes} + std::chrono::seconds{seconds} + Length{nanos};
  if (!within_reach(length)) return std::nullopt;
  return length;
}

std::string to_text(std::chrono::year_month_day date) {
  return padded(static_cast<int>(date.year()), 4) + "-" + padded(static_cast<unsigned>(date.month()), 2) + "-" +
         padded(static_cast<unsigned>(date.day()), 2);
}

std::optional<std::chrono::year_month_day> parse_date(std::string_view text) {
  text = trimmed(text);
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const std::int64_t year = parse_digits(text.substr(0, 4), 4, 4);
  const std::int64_t month = parse_digits(text.substr(5, 2), 2, 2);
  const std::int64_t day = parse_digits(text.substr(8, 2), 2, 2);
  if (year < 0 || month < 0 || day < 0) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{static_cast<int>(year)},
                                         std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  if (!date.ok()) return std::nullopt;
  return date;
}

std::string to_text(WallTime time) {
  const auto day = std::chrono::floor<std::chrono::days>(time);
  const auto in_day = std::chrono::floor<std::chrono::seconds>(time - day).count();
  return to_text(std::chrono::year_month_day{day}) + "T" + padded(in_day / 3600, 2) + ":" +
         padded(in_day / 60 % 60, 2) + ":" + padded(in_day % 60, 2) + "Z";
}

std::string to_decimal_text(double value, int decimals) {
  std::array<char, 400> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
  std::string text{buffer.data(), end.ptr};
  const bool only_zeros = text.find_first_of("123456789") == std::string::npos;
  return only_zeros && text.front() == '-' ? text.substr(1) : text;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> fields;
  std::size_t from = 0;
  while (true) {
    const std::size_t at = text.find(separator, from);
    fields.emplace_back(text.substr(from, at == std::string_view::npos ? at : at - from));
    if (at == std::string_view::npos) return fields;
    from = at + 1;
  }
}

std::string listed(std::span<const std::string> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

std::string to_hex(std::span<const std::uint8_t> bytes) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string text;
  text.reserve(bytes.size() * 2);
  for (const std::uint8_t byte : bytes) {
    text += digits[byte >> 4U];
    text += digits[byte & 15U];
  }
  return text;
}

bool is_utf8(std::string_view bytes) {
  while (!bytes.empty()) {
    const std::size_t length = utf8_length(bytes);
    if (length == 0) return false;
    bytes.remove_prefix(length);
  }
  return true;
}

std::string to_utf8(std::string_view bytes) {
  std::string text;
  text.reserve(bytes.size());
  while (!bytes.empty()) {
    const std::size_t length = utf8_length(bytes);
    if (length == 0) {
      text += "\xEF\xBF\xBD";
      bytes.remove_prefix(1);
      continue;
    }
    const auto lead = static_cast<unsigned char>(bytes[0]);
    const bool control = (lead < 0x20 && lead != '\t' && lead != '\n') || lead == 0x7F;
    if (control) {
      text += ' ';
    } else {
      text += bytes.substr(0, length);
    }
    bytes.remove_prefix(length);
  }
  return text;
}

std::string_view to_text(ClockSource source) {
  switch (source) {
    case ClockSource::timecode: return "timecode";
    case ClockSource::container: return "container";
    case ClockSource::name: return "name";
    case ClockSource::file_time: return "file time";
  }
  return "file time";
}

std::string FileIdentity::hex() const { return to_hex(digest); }

}  // namespace jigtime
