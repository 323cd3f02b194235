// What the rules' messages are made of. Private to the rules.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace jigtime::journal {

inline Error invalid(std::string message) { return {Code::invalid, std::move(message)}; }

/// In double quotes, fit to be printed, and cut after some sixty bytes.
std::string in_quotes(std::string_view text);

}  // namespace jigtime::journal
