#include "base/text.h"
#include "report/report.h"

namespace jigtime::report {
namespace {

constexpr std::string_view stand_in = "\xEF\xBF\xBD";  // U+FFFD

/// U+FFFE and U+FFFF are no XML characters; U+202A to U+202E and U+2066 to U+2069 turn the direction of the text after
/// them and could make a file name read as another.
bool is_unwanted(std::string_view sequence) {
  if (sequence.size() != 3) return false;
  const auto last = static_cast<unsigned char>(sequence[2]);
  if (sequence.substr(0, 2) == "\xEF\xBF") return last >= 0xBE;
  if (sequence.substr(0, 2) == "\xE2\x80") return last >= 0xAA && last <= 0xAE;
  if (sequence.substr(0, 2) == "\xE2\x81") return last >= 0xA6 && last <= 0xA9;
  return false;
}

std::string_view entity(char c) {
  switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    default: return {};
  }
}

}  // namespace

std::string html_escaped(std::string_view text) {
  const std::string clean = to_utf8(text);
  std::string escaped;
  escaped.reserve(clean.size());
  for (std::size_t i = 0; i < clean.size(); ++i) {
    const std::string_view replacement = entity(clean[i]);
    if (!replacement.empty()) {
      escaped += replacement;
    } else if (is_unwanted(std::string_view{clean}.substr(i, 3))) {
      escaped += stand_in;
      i += 2;
    } else {
      escaped += clean[i];
    }
  }
  return escaped;
}

}  // namespace jigtime::report
