// Grips and holes of pull-stem blind rivets, as one printed table gives them.
// Must never know: solid rivets; a formula for the smallest grip (there is none: it depends on which numbers exist).
// Begin reading at: find_blind_size.
#pragma once

#include <span>
#include <string_view>

#include "handbook/source.h"

namespace jigtime::handbook {

/// Lengths in thousandths of an inch.
struct BlindSize {
  int diameter_32nds = 0;
  int grip_16ths = 0;
  int grip_min_mil = 0;
  int grip_max_mil = 0;
  int length_mil = 0;
  int hole_min_mil = 0;
  int hole_max_mil = 0;
  std::string_view drill;
};

/// Nothing where the table has no such row; that does not mean that the rivet does not exist.
const BlindSize* find_blind_size(int diameter_32nds, int grip_16ths);

struct BlindNote {
  std::string_view text;  ///< a whole sentence
  Source source;
};
/// What holds for blind rivets of every size.
std::span<const BlindNote> blind_notes();

std::span<const BlindSize> all_blind_sizes();
extern const Source blind_sizes_source;

}  // namespace jigtime::handbook
