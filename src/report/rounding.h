// Lengths as they are shown, so that the shown rows add up to the shown total.
// Must never know: what the rows are.
#pragma once

#include <vector>

#include "journal/hours.h"

namespace jigtime::report {

/// By the journal's rule; where that is none, whole seconds. Precondition: every length >= 0.
std::vector<Length> shown_lengths(const std::vector<Length>& lengths, journal::Rounding rounding);
/// A total by itself: what shown_lengths of its parts add up to.
Length shown_length(Length length, journal::Rounding rounding);

}  // namespace jigtime::report
