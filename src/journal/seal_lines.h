// The lines of an entry's text: keys, escapes, exact times. Private to the seal.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock_reading.h"
#include "base/time.h"

namespace jigtime::journal {

/// "clip 2", or "clip 2 part 1".
class Numbered {
 public:
  Numbered(std::string_view what, int number) : key_{std::string{what} + " " + std::to_string(number)} {}
  Numbered inside(std::string_view what, int number) const { return Numbered{key_ + " " + std::string{what}, number}; }
  const std::string& key() const { return key_; }

 private:
  std::string key_;
};

/// Collects "key: value" lines. A value may hold anything; bytes that are not UTF-8 become U+FFFD.
class Lines {
 public:
  void add(std::string_view key, std::string_view value);
  void add(const Numbered& at, std::string_view key, std::string_view value);
  void add(const Numbered& at, std::string_view key, std::int64_t value);
  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

/// "at what 1: ...", "at what 2: ..."
void write_each(Lines& lines, const Numbered& at, std::string_view what, const std::vector<std::string>& values);

/// H:MM:SS.nnnnnnnnn, never rounded.
std::string exact_text(Length length);
inline std::string exact_text(SessionTime time) { return exact_text(time.time_since_epoch()); }
/// RFC 3339 in UTC with nine decimals.
std::string exact_text(WallTime time);
std::string_view kind_text(ClockKind kind);

std::string escaped(std::string_view value);
std::string unescaped(std::string_view value);

}  // namespace jigtime::journal
