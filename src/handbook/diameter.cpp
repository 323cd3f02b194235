#include "handbook/diameter.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace jigtime::handbook {
namespace {

constexpr Source ac43{"FAA AC 43.13-1B, 4-58g(2)(a)", Seen::seen};
constexpr Source course_note{"Canadian course note on solid rivets", Seen::quoted};
constexpr Source navy{"US Navy training manual 14018, rivet selection, rules 6 and 7", Seen::seen};

constexpr std::array notes{
    DiameterNote{"No rivet under 3/32 in belongs in structure.",
                 {"US Navy training manual 14018, rivet selection, rule 5", Seen::seen}},
    DiameterNote{"In stringers the diameter is 2 to 3 times the thickness of the leg, and not over 1/4 of its width.",
                 {"FAA AC 43.13-1B, 4-58l", Seen::seen}},
    DiameterNote{"A solid rivet right through a tube has at least 1/8 of the tube's outside diameter.",
                 {"FAA AC 43.13-1B, 4-58a", Seen::seen}},
};

constexpr std::array standard_32nds{2, 3, 4, 5, 6, 8, 10, 12};

int nearest_standard(double diameter_in) {
  return *std::min_element(standard_32nds.begin(), standard_32nds.end(), [&](int a, int b) {
    return std::abs(a / 32.0 - diameter_in) < std::abs(b / 32.0 - diameter_in);
  });
}

/// 0 above the largest.
int next_standard(double diameter_in) {
  const auto at =
      std::find_if(standard_32nds.begin(), standard_32nds.end(), [&](int size) { return size / 32.0 >= diameter_in; });
  return at == standard_32nds.end() ? 0 : *at;
}

}  // namespace

Result<std::vector<DiameterRule>> diameters_for_sheet(double thickest_sheet_in) {
  const double t = thickest_sheet_in;
  if (!(t > 0 && t <= 0.5)) {
    return Error{Code::invalid, "The thickest sheet must be above 0 and at most half an inch thick."};
  }
  return std::vector<DiameterRule>{
      {"about 3 times the thickest sheet", 3 * t, 3 * t, nearest_standard(3 * t), next_standard(3 * t), ac43},
      {"at least 3 times the thickest sheet", 3 * t, 0, 0, 0, course_note},
      {"between 1 and 3 times the thickest sheet", t, 3 * t, 0, 0, navy},
  };
}

std::span<const DiameterNote> diameter_notes() { return notes; }

}  // namespace jigtime::handbook
