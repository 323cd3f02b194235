#include "report/text_width.h"

#include <vector>

namespace jigtime::report {
namespace {

constexpr std::string_view ellipsis = "…";

/// Characters as slices of the text.
std::vector<std::string_view> characters_of(std::string_view text) {
  std::vector<std::string_view> characters;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t length = 1;
    while (at + length < text.size() && (static_cast<unsigned char>(text[at + length]) & 0xC0U) == 0x80U) ++length;
    characters.push_back(text.substr(at, length));
    at += length;
  }
  return characters;
}

/// Widths in ems, taken from the widest of the usual fonts (DejaVu Sans) and rounded up.
double em_of(std::string_view character) {
  constexpr std::string_view narrow = "iljI.,:;'|!()[]/ ftr-";
  constexpr std::string_view wide = "mwMW@%";
  constexpr std::string_view signs = "#+<=>^~&ABCDEFGHKLNOPQRSTUVXYZ";
  const char c = character.front();
  const auto lead = static_cast<unsigned char>(c);
  if (lead >= 0xC2 && lead <= 0xC9) return 0.85;  // Latin with accents, ± ° ·
  if (lead >= 0x80) return 1.1;                   // other scripts, full width, the ellipsis
  if (narrow.find(c) != std::string_view::npos) return 0.42;
  if (wide.find(c) != std::string_view::npos) return 1.02;
  if (signs.find(c) != std::string_view::npos) return 0.85;
  return 0.65;
}

std::string joined(const std::vector<std::string_view>& characters, std::size_t head, std::size_t tail) {
  std::string text;
  for (std::size_t i = 0; i < head; ++i) text += characters[i];
  while (!text.empty() && text.back() == ' ') text.pop_back();
  text += ellipsis;
  for (std::size_t i = characters.size() - tail; i < characters.size(); ++i) text += characters[i];
  return text;
}

}  // namespace

double text_width(std::string_view text, double font_size) {
  double ems = 0;
  for (const std::string_view character : characters_of(text)) ems += em_of(character);
  return ems * font_size;
}

std::string fitted(std::string_view text, double width, double font_size, Shorten where, std::size_t least) {
  if (text_width(text, font_size) <= width) return std::string{text};
  const std::vector<std::string_view> characters = characters_of(text);
  double room = width / font_size - em_of(ellipsis);
  std::size_t head = 0;
  std::size_t tail = 0;
  while (head + tail < characters.size()) {
    const bool at_head = where == Shorten::end || head <= tail;
    const std::string_view next = at_head ? characters[head] : characters[characters.size() - 1 - tail];
    room -= em_of(next);
    if (room < 0) break;
    ++(at_head ? head : tail);
  }
  if (head + tail < least) return {};
  return joined(characters, head, tail);
}

}  // namespace jigtime::report
