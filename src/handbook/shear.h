// Single shear of one driven solid rivet, for checking a printed table only. No joint is judged by this.
// Must never know: sheets, bearing, patterns.
// Begin reading at: single_shear_lb.
#pragma once

#include <span>
#include <string_view>

#include "base/result.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct ShearStrength {
  std::string_view letters;  ///< "AD"
  std::string_view alloy;    ///< as driven
  int ksi = 0;
  Source source;
};

struct ShearRow {
  int diameter_32nds = 0;
  double hole_in = 0;
  int listed_lb = 0;  ///< as the handbook lists it for AD
  Source source;
};

/// F_su * pi/4 * hole^2, in pounds. Error invalid for letters without a strength here or a hole that is none.
/// Sources: that the area of the listed hole may be used, MIL-HDBK-5H 8.1.2 (seen); strengths see shear_strengths().
Result<double> single_shear_lb(std::string_view letters, double hole_in);

std::span<const ShearStrength> shear_strengths();
/// Listed values for AD; to compare with.
std::span<const ShearRow> listed_shear();

}  // namespace jigtime::handbook
