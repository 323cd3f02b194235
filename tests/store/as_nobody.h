// Tests about permissions, run as root or not.
#pragma once

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>

namespace jigtime::test {

/// Permissions do not hold root: tests about them act as somebody else for a while.
class AsNobody {
 public:
  AsNobody() {
    if (geteuid() == 0) REQUIRE(seteuid(65534) == 0);
  }
  AsNobody(const AsNobody&) = delete;
  AsNobody& operator=(const AsNobody&) = delete;
  ~AsNobody() {
    if (getuid() == 0 && seteuid(0) != 0) std::abort();
  }
};

}  // namespace jigtime::test
