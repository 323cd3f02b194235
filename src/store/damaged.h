// What is thrown inside the module for a value that no journal of this format holds.
#pragma once

#include <stdexcept>

namespace jigtime::store {

/// Becomes Code::unreadable at the module's edge.
struct Damaged : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace jigtime::store
