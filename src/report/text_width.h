// How much room a text takes, on the safe side: the reader's fonts are not ours to choose.
// Must never know: what the text says.
// Begin reading at: fitted.
#pragma once

#include <string>
#include <string_view>

namespace jigtime::report {

/// An upper estimate for the common sans-serif fonts, in the unit of `font_size`.
double text_width(std::string_view text, double font_size);

enum class Shorten { end, middle };

/// The text if it fits, else shortened with an ellipsis if at least `least` characters of it can stay, else empty.
/// Never cuts a UTF-8 sequence. Precondition: well-formed UTF-8.
std::string fitted(std::string_view text, double width, double font_size, Shorten where, std::size_t least);

}  // namespace jigtime::report
