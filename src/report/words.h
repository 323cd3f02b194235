// Times, doubts and bases as the page says them.
// Must never know: where on the page they stand.
// Begin reading at: basis_words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"
#include "journal/values.h"

namespace jigtime::report {

/// "by sound", "by its clock only", "by hand", "not placed".
std::string_view basis_words(journal::Basis basis);
/// "± 0.4 ms", "± 12 s", to two figures; "± less than 0.01 ms" and "no doubt stated" (zero) at the small end.
std::string sigma_words(Length sigma);
/// "1 h 24 min", "4 min 10 s", "42 s", "0.8 s", "40 ms". A negative length gets a minus in front.
std::string length_words(Length length);
/// One unit of length as the journal rounds it: "1:24:10", "1:24", "1.4 h", "1.25 h".
std::string hours_words(Length length, journal::Rounding rounding);
/// "to the minute", "to 0.1 h" ...
std::string_view rounding_words(journal::Rounding rounding);
/// "Saturday, 14 March 2026"; the bare numbers where they are no date.
std::string date_words(std::chrono::year_month_day date);
/// "1 clip", "3 clips".
std::string count_words(std::size_t count, std::string_view one, std::string_view many);
/// A line for each: what the sealed entry says, what it should say and why. Empty where there are none.
std::string amendment_words(const std::vector<journal::Entry>& amendments);
/// Cleaned (see clean.h), with line breaks and tabs as blanks.
std::string one_line(std::string_view text);

}  // namespace jigtime::report
