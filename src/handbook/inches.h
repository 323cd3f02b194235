// Inches as the trade writes them.
// Must never know: what is being measured.
// Begin reading at: inches_text.
#pragma once

#include <string>

namespace jigtime::handbook {

/// "9/32 in (0.28125 in)", "1 1/4 in (1.25 in)", "1 in". Precondition: numerator >= 0, denominator a power of two up to
/// 64.
std::string inches_text(int numerator, int denominator);
/// Thousandths as ".063" or "1.250". Precondition: mils >= 0.
std::string mils_text(int mils);

}  // namespace jigtime::handbook
