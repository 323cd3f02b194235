#include "handbook/holes.h"

#include <algorithm>
#include <array>

namespace jigtime::handbook {
namespace {

using std::string_view;

constexpr Source memory{"", Seen::memory};
constexpr Source old_table{"1940s fighter repair handbook, section 16", Seen::seen};
constexpr Source blind_table{"US Army TM 10-5410-221-14-1, Table 4-3", Seen::seen};
constexpr Source forum{"builders' forum", Seen::quoted};
constexpr Source mil_47196{"MIL-R-47196A, 3.2.1.3, Table I", Seen::quoted};
constexpr Source restated_47196{"MIL-R-47196A", Seen::quoted};
constexpr Source bolts{"US Army TM 1-1520-240-BD, section II", Seen::seen};

constexpr string_view today = "solid rivet, usual today";
constexpr string_view older = "solid rivet, older table";
constexpr string_view limits = "solid rivet, limits";
constexpr string_view blind = "blind rivet, limits";

constexpr std::array rows{
    HoleRow{2, today, "#51", 670, 670, memory},
    HoleRow{2, older, "#52", 635, 635, old_table},
    HoleRow{3, today, "#40", 980, 980, memory},
    HoleRow{3, older, "#41", 960, 960, old_table},
    HoleRow{3, limits, "", 930, 1030, mil_47196},
    HoleRow{3, "no-go gauge for the limit above (drill #37)", "#37", 1040, 1040, forum},
    HoleRow{3, blind, "#41", 960, 1000, blind_table},
    HoleRow{4, today, "#30", 1285, 1285, blind_table},
    HoleRow{4, older, "#30", 1285, 1285, old_table},
    HoleRow{4, blind, "#30", 1280, 1320, blind_table},
    HoleRow{5, today, "#21", 1590, 1590, memory},
    HoleRow{5, older, "#22", 1570, 1570, old_table},
    HoleRow{5, blind, "#20", 1600, 1640, blind_table},
    HoleRow{6, today, "#11", 1910, 1910, memory},
    HoleRow{6, older, "#12", 1890, 1890, old_table},
    HoleRow{6, "bolt in place of a rivet, limits", "", 1910, 1970, bolts},
    HoleRow{8, today, "F", 2570, 2570, memory},
    HoleRow{8, older, "1/4", 2500, 2500, old_table},
    HoleRow{8, blind, "F", 2570, 2610, blind_table},
};

constexpr std::array rules{
    HoleRule{"A burr chamfer is at most 10 % of the sheet or .032 in, the smaller.", restated_47196},
    HoleRule{"Holes are square to the surface, drilled with the sheets held together, not punched through.",
             restated_47196},
    HoleRule{"Limits apply before dimpling: dimpling widens a hole.", forum},
};

}  // namespace

std::vector<HoleRow> holes_for(int diameter_32nds) {
  std::vector<HoleRow> found;
  std::copy_if(rows.begin(), rows.end(), std::back_inserter(found),
               [&](const HoleRow& row) { return row.diameter_32nds == diameter_32nds; });
  return found;
}

std::span<const HoleRow> all_holes() { return rows; }
std::span<const HoleRule> hole_rules() { return rules; }

double largest_chamfer_in(double sheet_in) { return std::min(sheet_in * 0.1, 0.032); }

}  // namespace jigtime::handbook
