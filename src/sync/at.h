// Clips, nodes and windows have numbers that may be -1 for none; the library counts from 0 without a sign.
#pragma once

#include <cstddef>

namespace jigtime::sync {

/// Precondition: i >= 0.
inline std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace jigtime::sync
