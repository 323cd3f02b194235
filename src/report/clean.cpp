#include "report/clean.h"

#include "base/text.h"

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

bool is_kept_in_names(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte >= 0x80 || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '.' ||
         c == '-' || c == '_';
}

/// Where a sequence begins: no byte of the form 10xxxxxx.
std::size_t whole_characters(std::string_view text, std::size_t most) {
  if (text.size() <= most) return text.size();
  while (most > 0 && (static_cast<unsigned char>(text[most]) & 0xC0U) == 0x80U) --most;
  return most;
}

}  // namespace

std::string clean(std::string_view text) {
  std::string written = to_utf8(text);
  for (std::size_t i = 0; i + 2 < written.size(); ++i) {
    if (is_unwanted(std::string_view{written}.substr(i, 3))) written.replace(i, 3, stand_in);
  }
  return written;
}

std::string safe_file_name(std::string_view name, std::size_t most) {
  std::string safe = clean(name);
  for (char& c : safe) {
    if (!is_kept_in_names(c)) c = '_';
  }
  safe.resize(whole_characters(safe, most));
  while (!safe.empty() && safe.back() == '.') safe.pop_back();
  safe.erase(0, safe.find_first_not_of('.'));
  return safe.empty() ? "unnamed" : safe;
}

}  // namespace jigtime::report
