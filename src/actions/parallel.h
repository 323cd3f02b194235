// The same deed on many things, on several threads.
#pragma once

#include <functional>
#include <stop_token>

namespace jigtime::actions {

/// Calls deed(0) ... deed(count - 1), each once, from up to `threads` threads, and returns when all have ended. After a
/// stop request no further call begins. The first exception out of a deed ends the rest and is thrown on.
void for_each_index(int count, int threads, const std::stop_token& stop, const std::function<void(int)>& deed);

}  // namespace jigtime::actions
