#include "report/clean.h"

#include "base/text.h"

namespace jigtime::report {
namespace {

constexpr std::string_view stand_in = "\xEF\xBF\xBD";  // U+FFFD

enum class Letter { kept, left_out, line_end, replaced };

/// U+FFFE and U+FFFF are no XML characters. U+202D and U+202E make a text read as another. Marks that lay text of two
/// directions beside each other (U+202A to U+202C, U+2066 to U+2069) are meant well, but where one is not closed they
/// would turn what follows. U+2028 and U+2029 end a line.
Letter kind_of(std::string_view sequence) {
  if (sequence.size() != 3) return Letter::kept;
  const auto last = static_cast<unsigned char>(sequence[2]);
  if (sequence.substr(0, 2) == "\xEF\xBF") return last >= 0xBE ? Letter::replaced : Letter::kept;
  if (sequence.substr(0, 2) == "\xE2\x81") return last >= 0xA6 && last <= 0xA9 ? Letter::left_out : Letter::kept;
  if (sequence.substr(0, 2) != "\xE2\x80" || last < 0xA8 || last > 0xAE) return Letter::kept;
  return last < 0xAA ? Letter::line_end : last < 0xAD ? Letter::left_out : Letter::replaced;
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
    switch (kind_of(std::string_view{written}.substr(i, 3))) {
      case Letter::kept: break;
      case Letter::left_out: written.erase(i--, 3); break;
      case Letter::line_end: written.replace(i, 3, "\n"); break;
      case Letter::replaced: written.replace(i, 3, stand_in); break;
    }
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
