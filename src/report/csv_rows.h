// Records of a table as RFC 4180 writes them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "journal/hours.h"

namespace jigtime::report {

/// One record with its line end (CRLF); every field as by csv_field.
std::string csv_record(const std::vector<std::string>& fields);

/// In quotes, with the quotes in it doubled.
std::string csv_quoted(std::string_view text);

/// Hours with a point: exact for tenths and quarters, otherwise to a millionth of an hour, 3.6 ms.
std::string decimal_hours(Length length, journal::Rounding rounding);

}  // namespace jigtime::report
