// Whether a camera's stamps mark the ends of its files, as far as what sound proves can tell.
// Must never know: samples, the journal.
#pragma once

#include <vector>

#include "sync/line_up.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// Many phones write the time of a file when they close it (common practice, no source). Importing tells that by the
/// files themselves where there are enough of them; here proven pairs tell it of a camera whose stamps may be such
/// (ClockHint::if_end):
/// - they put its clock a whole number of half hours from another camera's by one edge and not by the other;
/// - two of its clips put its clock as far ahead of another camera's by one edge and not by the other;
/// - or two of its clips would run at once by one edge and not by the other: a camera records one at a time.
/// The stamps are moved with two words for ends, one of them by a pair, and nine in ten: the last alone may be a clock
/// that was set back, or slow motion. The same time to the second, and no zone between, counts twice. Where all says
/// beginnings, they are no longer in question.
void settle_ends(const std::vector<PairMatch>& matches, std::vector<ClipInput>& clips);

}  // namespace jigtime::sync
