// Names that are almost one that is there: a slip of the pen makes two people of one, and halves their hours.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace jigtime::actions {

/// As written without minding blanks, the case of Latin letters, and accents on them, whether an accent is part of its
/// letter or a mark behind it (Unicode Standard Annex 15: both are the same text). For comparing only.
std::string plain_name(std::string_view name);

/// What to say when `fresh` is new and almost one of `names`: with a blank in front, ready to follow a sentence.
/// `command` is person or task. Empty when there is nothing to say.
std::string near_name_hint(const std::vector<std::string>& names, const std::string& fresh, const std::string& command);

/// The same for people or tasks; `fresh` may be among them.
template <class Row>
std::string near_name_hint(const std::vector<Row>& rows, std::string Row::*name, const std::string& fresh,
                           const std::string& command) {
  std::vector<std::string> names;
  for (const Row& row : rows) names.push_back(row.*name);
  return near_name_hint(names, fresh, command);
}

}  // namespace jigtime::actions
