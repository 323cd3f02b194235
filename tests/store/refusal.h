// What a refused edit said.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "base/result.h"

namespace jigtime::test {

/// "code: message"; "done" when nothing was refused.
template <class T>
std::string refusal(const Result<T>& result) {
  if (result) return "done";
  return std::string{to_text(result.error().code())} + ": " + result.error().message();
}

inline bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace jigtime::test
