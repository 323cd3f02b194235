#include "handbook/repair.h"

#include <algorithm>

namespace jigtime::handbook {

const Source oversize_source{"MIL-R-47196A, 3.4.3", Seen::quoted};
const Source next_larger_source{"MIL-R-47196A", Seen::quoted};

int oversize_limit(int rivets) { return std::min(rivets / 5, 10); }

int next_larger_32nds(int diameter_32nds) { return diameter_32nds + (diameter_32nds < 8 ? 1 : 2); }

Result<std::optional<Replacement>> replacement_for(std::string_view letters, int diameter_32nds) {
  constexpr Source rule{"FAA AC 43.13-1B, 4-57b", Seen::seen};
  if (letters != "D" && letters != "DD") {
    return Error{Code::invalid,
                 "The rule names 2017 (D) and 2024 (DD) rivets only, not " + std::string{letters.substr(0, 8)} + "."};
  }
  const int largest = letters == "D" ? 6 : 5;
  if (diameter_32nds < 2 || diameter_32nds > largest) return std::optional<Replacement>{};
  Replacement replacement{"AD", diameter_32nds + 1, {}, rule};
  if (replacement.diameter_32nds == 7) {
    replacement.note =
        "The rule asks for 7/32 in, which is no usual stock size (from memory); it does not speak of a larger one.";
  }
  return std::optional{replacement};
}

}  // namespace jigtime::handbook
