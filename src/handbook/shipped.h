// The texts of assets/ that every copy of the program carries with it.
// Must never know: what they say; parse_checklist and parse_regime do.
// Begin reading at: shipped_checklists.
#pragma once

#include <span>
#include <string_view>

namespace jigtime::handbook {

struct Shipped {
  std::string_view name;  ///< the file's name without ".txt"
  std::string_view text;
};

/// By name. Written into the program when it is built, so that it finds them wherever it is put.
std::span<const Shipped> shipped_checklists();
std::span<const Shipped> shipped_regimes();

}  // namespace jigtime::handbook
