// How bars are told apart, in every drawing: a colour, and a pattern or an outline of its own for black-and-white
// print. Must never know: how a drawing is written.
#pragma once

#include <string_view>

#include "report/layout.h"

namespace jigtime::report {

/// Okabe and Ito's colours, told apart by people with any kind of colour vision.
namespace colours {
inline constexpr std::string_view black = "#000000";
inline constexpr std::string_view white = "#FFFFFF";
inline constexpr std::string_view orange = "#E69F00";
inline constexpr std::string_view sky_blue = "#56B4E9";
inline constexpr std::string_view green = "#009E73";
inline constexpr std::string_view yellow = "#F0E442";
inline constexpr std::string_view blue = "#0072B2";
inline constexpr std::string_view vermilion = "#D55E00";
inline constexpr std::string_view purple = "#CC79A7";
}  // namespace colours

enum class Hatch { none, upright, level, slanting, dots };

struct Style {
  Look look;
  std::string_view id;
  std::string_view ground;
  double opacity;  ///< of the ground, on white
  Hatch hatch;
  std::string_view ink;  ///< of the hatch
  double ink_width;      ///< of its lines; the radius of dots
  std::string_view outline;
  std::string_view dashes;  ///< of the outline; empty for a plain one
  std::string_view words;   ///< in the key
};

const Style& style_of(Look look);
inline constexpr Look all_looks[] = {Look::by_sound, Look::by_hand, Look::by_clock,
                                     Look::dropout,  Look::work,    Look::pause};
/// Distance of a hatch's lines, and of its dots both ways.
inline constexpr double hatch_step = 6;

/// What whiskers mean, for the key.
extern const std::string_view whisker_words;

}  // namespace jigtime::report
