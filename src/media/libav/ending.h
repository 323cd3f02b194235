// How a file ends: whole, broken off, never finished, or blank from the start.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"
#include "media/libav/file_io.h"

namespace jigtime::media {

/// True when the first 64 KiB (or all, if less) are zero: what a failed copy or a dying card leaves.
bool starts_blank(FileIo& file);
Error blank_file(const std::string& name);

/// Why libav would not open a file of the kind `container` (libav's name), in a builder's words.
Error why_unopened(int code, FileIo& file, std::string_view container, const std::string& name);

/// A sentence about a file whose own structure says that it should go on, or that it was never finished; nothing for
/// a file that ends as it should, or that cannot tell.
std::optional<std::string> broken_ending(FileIo& file, std::string_view container);

}  // namespace jigtime::media
