// Planned against set.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "journal/values.h"

namespace jigtime::journal {

struct FastenerBalance {
  TaskId task;
  std::string callout;
  int planned = 0;
  int set = 0;  ///< all that were set, those drilled out again included
  int drilled = 0;
  int left() const;  ///< planned - (set - drilled), never below 0
  int over() const;  ///< (set - drilled) - planned, never below 0
};

/// Ordered by task title, then call-out.
std::vector<FastenerBalance> balance(const Register& known, const std::vector<Span>& spans);

std::optional<Method> parse_method(std::string_view text);

}  // namespace jigtime::journal
