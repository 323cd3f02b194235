// Lengths as people say them.
#pragma once

#include <string>

#include "base/time.h"

namespace jigtime::actions {

/// "0.42 s", "12.3 s", "1 min 5 s", "1 h 0 min", "4092 days".
std::string spoken(Length length);

}  // namespace jigtime::actions
