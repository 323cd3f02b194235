#include "handbook/spacing.h"

#include <array>
#include <cmath>

namespace jigtime::handbook {
namespace {

constexpr Source ac43_restated{"FAA AC 43.13-1B, 4-57", Seen::quoted};
constexpr Source army{"US Army TM 10-5410-229-13&P, 5-6", Seen::seen};
constexpr Source navy{"US Navy training manual 14018, rivet spacing", Seen::seen};
constexpr Source exam_guide{"exam guide on the airframe handbook", Seen::quoted};
constexpr Source review{"trade magazine, riveting review, March 1999", Seen::quoted};
constexpr Source nas523{"notes on NAS523", Seen::quoted};
constexpr Source airframe_handbook{"FAA-H-8083-31", Seen::memory};
constexpr Source ac43_figure{"FAA AC 43.13-1B, figure 4-5", Seen::memory};

constexpr std::array rules{
    SpacingRule{Distance::edge, "any head, single row", 2, 0, ac43_restated},
    SpacingRule{Distance::edge, "any head, single row", 2, 0, army},
    SpacingRule{Distance::edge, "protruding head", 2, 0, exam_guide},
    SpacingRule{Distance::edge, "flush head", 2.5, 0, exam_guide},
    SpacingRule{Distance::edge, "any head", 0, 4, review},
    SpacingRule{Distance::pitch, "single row", 3, 0, ac43_restated},
    SpacingRule{Distance::pitch, "single row", 3, 0, army},
    SpacingRule{Distance::pitch, "never below 3 D, seldom below 4 D or above 8 D", 3, 8, navy},
    SpacingRule{Distance::pitch, "", 3, 10, review},
    SpacingRule{Distance::pitch, "", 3, 12, nas523},
    SpacingRule{Distance::pitch, "usually", 4, 6, airframe_handbook},
    SpacingRule{Distance::pitch, "two rows", 4, 0, ac43_figure},
    SpacingRule{Distance::pitch, "three rows", 3, 4, ac43_figure},
    SpacingRule{Distance::rows, "two or three rows", 2.5, 0, ac43_figure},
    SpacingRule{Distance::rows, "usually 75 % of the pitch", 2.5, 0, exam_guide},
    SpacingRule{Distance::rows, "", 2.5, 0, army},
    SpacingRule{Distance::rows, "", 2.5, 0, review},
};

// Lengths come from fractions of an inch: a millionth of a space is arithmetic, not metal.
constexpr double slack = 1e-6;

}  // namespace

std::span<const SpacingRule> spacing_rules() { return rules; }

std::string_view to_text(Distance what) {
  switch (what) {
    case Distance::edge: return "edge distance";
    case Distance::pitch: return "pitch";
    case Distance::rows: return "distance of rows";
  }
  return "pitch";
}

Result<StripCount> rivets_in_strip(const StripLayout& layout) {
  const double between = layout.strip_in - 2 * layout.edge_in;
  const bool sensible = layout.edge_in > 0 && layout.pitch_min_in > 0 && layout.pitch_max_in >= layout.pitch_min_in &&
                        between > 0 && between < 1e4 * layout.pitch_min_in;
  if (!sensible) {
    return Error{
        Code::invalid,
        "The strip must be longer than its two edge distances, and the pitch must run from a smaller to a larger "
        "length, all above zero."};
  }
  const auto fewest_spaces = static_cast<int>(std::ceil(between / layout.pitch_max_in - slack));
  const auto most_spaces = static_cast<int>(std::floor(between / layout.pitch_min_in + slack));
  if (fewest_spaces < 1 || most_spaces < fewest_spaces) {
    return Error{Code::invalid,
                 "No even pitch between these bounds divides the strip: change a bound or the edge distance."};
  }
  return StripCount{fewest_spaces + 1, between / fewest_spaces, most_spaces + 1, between / most_spaces};
}

}  // namespace jigtime::handbook
