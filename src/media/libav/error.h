// libav's failures as ours.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace jigtime::media {

/// What was being done to the file: decides what the builder can do about a failure without a cause of its own.
enum class Deed { reading, writing };

/// The one place where a libav code becomes an Error. `sentence` says what failed, without a full stop; libav's own
/// text and its last complaint on this thread follow in brackets, then what the builder can do next.
Error from_libav(int code, std::string_view sentence, Deed deed = Deed::reading);

/// The same for an errno.
Error from_errno(int number, std::string_view sentence);

/// Takes libav's messages away from stderr. Called by everything that opens a file; costs nothing the second time.
void quieten_libav();

/// The last thing libav complained about on this thread since the last call to forget_complaint.
std::string last_complaint();
void forget_complaint();

}  // namespace jigtime::media
