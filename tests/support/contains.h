// Words in a text.
#pragma once

#include <string_view>

namespace jigtime::test {

inline bool contains(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

}  // namespace jigtime::test
