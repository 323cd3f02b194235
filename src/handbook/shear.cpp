#include "handbook/shear.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <string>

namespace jigtime::handbook {
namespace {

constexpr Source public_code{"public code with AD rivets", Seen::seen};
constexpr Source memory{"", Seen::memory};
constexpr Source listed{"MIL-HDBK-5, Table 8.1.2", Seen::memory};

constexpr std::array strengths{
    ShearStrength{"AD", "2117-T3", 30, public_code},
    ShearStrength{"B", "5056-H321", 28, memory},
    ShearStrength{"D", "2017-T3", 38, memory},
    ShearStrength{"DD", "2024-T31", 41, memory},
};

constexpr std::array rows{
    ShearRow{2, 0.067, 106, listed},   ShearRow{3, 0.096, 217, listed},   ShearRow{4, 0.1285, 388, listed},
    ShearRow{5, 0.159, 596, listed},   ShearRow{6, 0.191, 862, listed},   ShearRow{8, 0.257, 1555, listed},
    ShearRow{10, 0.323, 2460, listed}, ShearRow{12, 0.386, 3510, listed},
};

}  // namespace

Result<double> single_shear_lb(std::string_view letters, double hole_in) {
  const auto row = std::find_if(strengths.begin(), strengths.end(),
                                [&](const ShearStrength& strength) { return strength.letters == letters; });
  if (row == strengths.end()) {
    return Error{Code::invalid, "There is no shear strength for material " + std::string{letters.substr(0, 8)} +
                                    "; the handbook has AD, B, D and DD."};
  }
  if (!(hole_in > 0 && hole_in < 1)) return Error{Code::invalid, "The hole must be above 0 and below 1 inch."};
  return row->ksi * 1000.0 * std::numbers::pi / 4 * hole_in * hole_in;
}

std::span<const ShearStrength> shear_strengths() { return strengths; }
std::span<const ShearRow> listed_shear() { return rows; }

}  // namespace jigtime::handbook
