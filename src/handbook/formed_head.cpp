#include "handbook/formed_head.h"

#include <array>

namespace jigtime::handbook {
namespace {

constexpr Source customary{"FAA AC 43.13-1B; a Canadian course note; an exam guide", Seen::quoted};
constexpr Source handbook5{"MIL-HDBK-5H (1 Dec 1998), 8.1.2", Seen::seen};
constexpr Source mil_47196{"MIL-R-47196A", Seen::quoted};
constexpr Source course_note{"Canadian course note on solid rivets", Seen::quoted};

struct CourseRow {
  int diameter_32nds;
  double diameter_min_in;
  double diameter_max_in;
  double height_min_in;
  double height_max_in;
};

constexpr std::array course_rows{
    CourseRow{2, 0.080, 0.110, 0.020, 0.040},  CourseRow{3, 0.120, 0.160, 0.030, 0.060},
    CourseRow{4, 0.160, 0.210, 0.040, 0.080},  CourseRow{5, 0.200, 0.270, 0.050, 0.100},
    CourseRow{6, 0.240, 0.320, 0.060, 0.120},  CourseRow{8, 0.330, 0.430, 0.080, 0.170},
    CourseRow{10, 0.410, 0.530, 0.110, 0.210}, CourseRow{12, 0.490, 0.640, 0.120, 0.250},
};

}  // namespace

std::vector<HeadBand> formed_heads_for(int diameter_32nds) {
  std::vector<HeadBand> bands;
  if (diameter_32nds < 2 || diameter_32nds > 12) return bands;
  const double d = diameter_32nds / 32.0;
  bands.push_back({"customary: 1.5 D wide, 0.5 D high", 1.5 * d, 1.5 * d, 0.5 * d, 0.5 * d, customary});
  bands.push_back({"least: 1.3 D wide, 0.3 D high", 1.3 * d, 0, 0.3 * d, 0, handbook5});
  bands.push_back({"least for 7050: 1.4 D wide, 0.3 D high", 1.4 * d, 0, 0.3 * d, 0, handbook5});
  if (diameter_32nds == 3) bands.push_back({"limits for 3/32 in", 0.122, 0, 0.038, 0.050, mil_47196});
  for (const CourseRow& row : course_rows) {
    if (row.diameter_32nds != diameter_32nds) continue;
    bands.push_back({"acceptance band", row.diameter_min_in, row.diameter_max_in, row.height_min_in, row.height_max_in,
                     course_note});
  }
  return bands;
}

}  // namespace jigtime::handbook
