// Planned against set.
#pragma once

#include <array>
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
  std::array<int, 4> set_by{};  ///< `set` by method, in the order of Method
  std::optional<int>
      grip_uin{};    ///< as the plan states it; nothing where it does not, or where tasks of one location differ
  int left() const;  ///< planned - (set - drilled), never below 0
  int over() const;  ///< (set - drilled) - planned, never below 0
};

/// Ordered by task title, then call-out. A task that was merged counts as the one it was merged into.
std::vector<FastenerBalance> balance(const Register& known, const std::vector<Span>& spans);

/// The same rows added up over the tasks of each assembly; `task` is 0.
struct LocationBalance {
  std::optional<AssemblyId> assembly;  ///< nothing: of tasks that have none
  FastenerBalance balance;
};
/// Ordered by the assembly's path, then call-out.
std::vector<LocationBalance> balance_by_location(const Register& known, const std::vector<Span>& spans);

std::optional<Method> parse_method(std::string_view text);

}  // namespace jigtime::journal
