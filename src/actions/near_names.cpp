#include "actions/near_names.h"

namespace jigtime::actions {
namespace {

/// U+00C0 to U+017F without their accents (UnicodeData.txt, decomposition); a point: the letter has none.
constexpr std::string_view without_accent =
    "aaaaaa.ceeeeiiii.nooooo..uuuuy..aaaaaa.ceeeeiiii.nooooo..uuuuy.y"
    "aaaaaaccccccccdd..eeeeeeeeeegggggggghh..iiiiiiiii...jjkk.llllll."
    "...nnnnnn...oooooo..rrrrrrsssssssstttt..uuuuuuuuuuuuwwyyyzzzzzz.";
constexpr unsigned first_accented = 0xC0;

/// A letter of two bytes, as UTF-8 has it; 0 for any other.
unsigned two_byte_letter(std::string_view text, std::size_t at) {
  if (at + 1 >= text.size()) return 0;
  const auto first = static_cast<unsigned char>(text[at]);
  const auto second = static_cast<unsigned char>(text[at + 1]);
  return (first & 0xE0U) == 0xC0U ? (first & 0x1FU) << 6U | (second & 0x3FU) : 0;
}

bool is_accent(unsigned letter) { return letter >= 0x300 && letter <= 0x36F; }

}  // namespace

std::string plain_name(std::string_view name) {
  std::string text;
  for (std::size_t at = 0; at < name.size(); ++at) {
    const char c = name[at];
    if (const unsigned letter = two_byte_letter(name, at); letter != 0) {
      const std::size_t place = letter - first_accented;  // wraps round below it
      if (place < without_accent.size() && without_accent[place] != '.') {
        text += without_accent[place];
      } else if (!is_accent(letter)) {
        text += name.substr(at, 2);
      }
      ++at;
    } else if (c != ' ') {
      text += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
  }
  return text;
}

std::string near_name_hint(const std::vector<std::string>& names, const std::string& fresh,
                           const std::string& command) {
  for (const std::string& name : names) {
    if (name == fresh || plain_name(name) != plain_name(fresh)) continue;
    return " There is \"" + name + "\" already; if it is the same: jigtime " + command + " JOURNAL merge \"" + fresh +
           "\" --into \"" + name + "\".";
  }
  return {};
}

}  // namespace jigtime::actions
