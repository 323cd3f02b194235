// Tables for people: columns of text.
#pragma once

#include <string>
#include <vector>

#include "cli/terminal.h"

namespace jigtime::cli {

/// The first row is the heading. Columns are as wide as their widest cell; those without any text are left out.
void say_columns(Terminal& terminal, const std::vector<std::vector<std::string>>& rows);

}  // namespace jigtime::cli
