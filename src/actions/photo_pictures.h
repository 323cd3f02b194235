// Photos small enough for a page, out of their own files.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "journal/values.h"

namespace jigtime::actions {

/// Why the photo cannot be shown, as far as that is known without decoding it: its file is gone, is another one now, or
/// is of a kind that is not shown. A whole sentence, empty when nothing speaks against it. Reads at most 128 KiB.
std::string why_not_shown(const journal::Photo& photo);

/// The photo as a JPEG file, its longer side 640 at the most. It is kept in the cache folder under the file's digest,
/// since decoding a large one takes a tenth of a second. Errors: not_found, unsupported, unreadable.
Result<std::vector<std::uint8_t>> small_photo(const journal::Photo& photo);

}  // namespace jigtime::actions
