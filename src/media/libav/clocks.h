// What a file says about when it was recorded.
#pragma once

#include <filesystem>
#include <vector>

#include "base/clock_reading.h"
#include "media/libav/source.h"

namespace jigtime::media {

/// Timecode, container, name and file time, most trusted first; an exact zone before a supposed one; none twice.
std::vector<ClockReading> clocks_of(const Source& source, const std::filesystem::path& path);

}  // namespace jigtime::media
