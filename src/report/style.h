// The page's style sheet.
#pragma once

#include <string_view>

namespace jigtime::report {

/// Holds neither < nor &, so that it may stand in XML as it is.
extern const std::string_view style_sheet;
/// What a book needs besides. Holds neither < nor &.
extern const std::string_view book_style_sheet;

}  // namespace jigtime::report
