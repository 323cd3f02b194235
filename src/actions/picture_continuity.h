// Whether one file's pictures go on where another's end.
#pragma once

#include <filesystem>
#include <stop_token>

#include "media/probe.h"

namespace jigtime::actions {

/// Compares the last picture of `before` and the first of `after` with how much neighbouring pictures differ anyway. A
/// real split loses no picture, so a jump between them means two recordings. True without pictures, and when one of
/// them cannot be decoded: then the clocks alone speak.
bool pictures_go_on(const std::filesystem::path& before, const media::MediaInfo& before_info,
                    const std::filesystem::path& after, const media::MediaInfo& after_info,
                    const std::stop_token& stop);

}  // namespace jigtime::actions
