// People, assemblies and tasks as they are listed to be renamed, put away or found to be the same.
// Must never know: ImGui, the store.
// Begin reading at: named_lines.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "actions/shelf.h"
#include "journal/values.h"

namespace jigtime::app {

struct NamedLine {
  std::string name;    ///< as the actions take it: of an assembly its whole path
  std::string last;    ///< what can be typed anew: of an assembly the last step of its path
  std::string beside;  ///< a person's role, a task's assembly
  bool away = false;   ///< not offered any more
};

/// Without those that were merged into others; what is put away stands last.
std::vector<NamedLine> named_lines(const journal::Register& known, actions::Shelved what);

/// What typing another name over one means.
struct Renaming {
  enum class Means { nothing, rename, merge } means = Means::nothing;
  std::string to;  ///< the new name, or which of the others it is
};
Renaming renaming(const std::vector<NamedLine>& lines, const NamedLine& line, std::string_view typed);

}  // namespace jigtime::app
