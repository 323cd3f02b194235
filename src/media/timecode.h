// Timecode labels and the frames they count.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "base/time.h"

namespace jigtime::media {

/// How labels are given to frames (SMPTE ST 12-1). With drop-frame the labels :00 and :01 (:00 to :03 at 60) are left
/// out at each minute but every tenth, so that at 29.97 pictures a second the labels keep step with the clock.
enum class FrameCount { non_drop, drop_frame };

struct Timecode {
  int hours = 0;
  int minutes = 0;
  int seconds = 0;
  int frames = 0;
  FrameCount count = FrameCount::non_drop;
};

/// "HH:MM:SS:FF"; a semicolon or a dot before the frames means drop-frame. Hours below 24; nothing for anything else.
std::optional<Timecode> parse_timecode(std::string_view text);

/// Frames since label zero at `nominal_rate` labels a second (24, 25, 30, 50, 60 ...). Nothing for a label that does
/// not exist: too many frames, or one that drop-frame leaves out, or drop-frame at a rate that has none.
/// Drop-frame at 30: 108000 h + 1800 m + 30 s + f - 2 (M - M div 10), M = 60 h + m.
std::optional<std::int64_t> frame_number(const Timecode& label, int nominal_rate);

/// Since midnight, for a label that shows the time of day. Drop-frame: frames by the true rate. Otherwise the label as
/// it stands, since the device set it by its clock when the recording began.
std::optional<Length> time_of_day(const Timecode& label, int rate_num, int rate_den);

}  // namespace jigtime::media
