#include "report/looks.h"

#include <array>

namespace jigtime::report {
namespace {

using namespace colours;

constexpr std::array styles{
    Style{Look::by_sound, "sound", sky_blue, 0.75, Hatch::none, black, 0, black, "", "Plain: a clip placed by sound."},
    Style{Look::by_hand, "hand", purple, 0.55, Hatch::upright, black, 0.5, black, "",
          "Upright lines: a clip placed by hand."},
    Style{Look::by_clock, "clock", orange, 0.25, Hatch::dots, black, 0.9, black, "4 2",
          "Dots, broken outline: a clip placed by its camera's clock only."},
    Style{Look::dropout, "dropout", white, 1, Hatch::slanting, vermilion, 1.3, vermilion, "",
          "Slanting lines: a dropout, time this camera did not record."},
    Style{Look::work, "work", green, 0.3, Hatch::none, black, 0, black, "", "Light, plain: work on a task."},
    Style{Look::pause, "pause", yellow, 0.55, Hatch::level, black, 0.5, black, "", "Level lines: a break."},
};

}  // namespace

const Style& style_of(Look look) { return styles[static_cast<std::size_t>(look)]; }

const std::string_view whisker_words =
    "Whiskers and ±: one standard error of a clip's place; in about two cases of three the true place is within.";

}  // namespace jigtime::report
