// What a refused value said.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "base/result.h"

namespace jigtime::test {

/// The message of a refusal, which the rules always make with Code::invalid; the test ends when nothing was refused.
inline std::string refused(const Done& done) {
  if (done) FAIL("nothing was refused");
  CHECK(done.error().code() == Code::invalid);
  return done.error().message();
}

inline bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace jigtime::test
