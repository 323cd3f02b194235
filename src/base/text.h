// Times as people write them, and small helpers on text.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"

namespace jigtime {

/// H:MM:SS.mmm, rounded to the nearest millisecond; "-" in front of a negative one.
std::string to_clock_text(Length since_zero);
inline std::string to_clock_text(SessionTime t) { return to_clock_text(t.time_since_epoch()); }
/// H:MM:SS, rounded to the nearest second.
std::string to_short_clock_text(Length since_zero);
/// Reads H:MM:SS[.fraction]; minutes and seconds below 60, up to nine decimals. Nothing for anything else.
std::optional<Length> parse_clock_text(std::string_view text);

/// YYYY-MM-DD.
std::string to_text(std::chrono::year_month_day date);
std::optional<std::chrono::year_month_day> parse_date(std::string_view text);
/// RFC 3339 in UTC, to the second: 2026-03-14T08:00:00Z.
std::string to_text(WallTime time);

/// Fixed notation with so many decimals, a point whatever the locale, never "-0.0". For display only.
std::string to_decimal_text(double value, int decimals);

std::string_view trimmed(std::string_view text);
/// Fields keep their surrounding blanks; "a,,b" gives three.
std::vector<std::string> split(std::string_view text, char separator);
/// "a, b and c".
std::string listed(std::span<const std::string> words);
/// Lower-case hexadecimal.
std::string to_hex(std::span<const std::uint8_t> bytes);
/// True when the bytes are well-formed UTF-8 (no overlong forms, no surrogates).
bool is_utf8(std::string_view bytes);
/// The text with every byte that is not UTF-8 replaced by U+FFFD, and control characters other than tab and newline
/// by a space: file names may hold anything, what we show and store may not.
std::string to_utf8(std::string_view bytes);

}  // namespace jigtime
