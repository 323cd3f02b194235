#include "handbook/blind_sizes.h"

#include <algorithm>
#include <array>

namespace jigtime::handbook {
namespace {

constexpr std::array rows{
    BlindSize{3, 2, 20, 125, 212, 96, 100, "#41"},   BlindSize{3, 4, 126, 250, 337, 96, 100, "#41"},
    BlindSize{4, 1, 20, 62, 170, 128, 132, "#30"},   BlindSize{4, 2, 63, 125, 232, 128, 132, "#30"},
    BlindSize{4, 3, 126, 187, 294, 128, 132, "#30"}, BlindSize{4, 4, 188, 250, 357, 128, 132, "#30"},
    BlindSize{4, 5, 251, 312, 419, 128, 132, "#30"}, BlindSize{4, 6, 313, 375, 481, 128, 132, "#30"},
    BlindSize{4, 8, 376, 500, 628, 128, 132, "#30"}, BlindSize{5, 2, 20, 125, 254, 160, 164, "#20"},
    BlindSize{5, 4, 188, 250, 379, 160, 164, "#20"}, BlindSize{5, 6, 251, 375, 504, 160, 164, "#20"},
    BlindSize{8, 6, 251, 375, 572, 257, 261, "F"},   BlindSize{8, 8, 376, 500, 697, 257, 261, "F"},
    BlindSize{8, 12, 626, 750, 947, 257, 261, "F"},
};

constexpr std::array notes{
    BlindNote{"Pull rivets made for other trades are not approved for structure of certificated aircraft; an amateur "
              "design may still call for them, and its plans decide.",
              {"FAA AC 43.13-1B, 4-57f(9)", Seen::seen}},
    BlindNote{"A stem is tight when about 10 lbf on the trimmed stem do not move it.",
              {"US Army TM 10-5410-221-14-1, text of Table 4-3", Seen::seen}},
    BlindNote{"A gap of .002 in under more than 40 % of the head's rim is not acceptable.",
              {"US Army TM 10-5410-223-14-1, figure 5-3", Seen::seen}},
    BlindNote{
        "Locked-spindle sleeves are classed by shear: 50 ksi (5056) or 75 ksi (nickel-copper); an oversize one is "
        ".016 in wider than its nominal size.",
        {"a maker's process manual", Seen::seen}},
};

}  // namespace

const Source blind_sizes_source{"US Army TM 10-5410-221-14-1, Table 4-3", Seen::seen};

const BlindSize* find_blind_size(int diameter_32nds, int grip_16ths) {
  const auto at = std::find_if(rows.begin(), rows.end(), [&](const BlindSize& row) {
    return row.diameter_32nds == diameter_32nds && row.grip_16ths == grip_16ths;
  });
  return at == rows.end() ? nullptr : &*at;
}

std::span<const BlindNote> blind_notes() { return notes; }

std::span<const BlindSize> all_blind_sizes() { return rows; }

}  // namespace jigtime::handbook
