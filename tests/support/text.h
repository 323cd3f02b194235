// Words in a text.
#pragma once

#include <cstddef>
#include <string_view>

namespace jigtime::test {

inline bool contains(std::string_view text, std::string_view part) { return text.find(part) != std::string_view::npos; }

/// How often, none over another.
inline std::size_t count(std::string_view text, std::string_view part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string_view::npos; at = text.find(part, at + part.size())) ++found;
  return found;
}

}  // namespace jigtime::test
