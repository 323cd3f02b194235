#include "handbook/asset_text.h"

#include <algorithm>

#include "base/text.h"

namespace jigtime::handbook {
namespace {

constexpr std::size_t longest_file = 1'000'000;
constexpr std::size_t most_told = 20;

bool is_small_letter(char c) { return c >= 'a' && c <= 'z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_control(char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }

std::string_view next_line(std::string_view& rest) {
  const std::size_t end = rest.find('\n');
  std::string_view line = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

}  // namespace

Result<std::vector<AssetLine>> read_asset_lines(std::string_view text, std::string_view heading) {
  if (text.size() > longest_file) return Error{Code::invalid, "The file is larger than any such list: above 1 MB."};
  if (!is_utf8(text)) return Error{Code::invalid, "The file is not in UTF-8. Save it again as plain text in UTF-8."};
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (trimmed(next_line(text)) != heading) {
    return Error{Code::invalid, "line 1: the file must begin with the line \"" + std::string{heading} + "\"."};
  }
  std::vector<AssetLine> lines;
  AssetFaults faults;
  for (int number = 2; !text.empty(); ++number) {
    const std::string_view line = trimmed(next_line(text));
    if (line.empty() || line.front() == '#') continue;
    const bool odd = std::any_of(line.begin(), line.end(), [](char c) { return is_control(c) && c != '\t'; });
    if (odd) faults.add(number, "there is a control character in it.");
    lines.push_back({number, std::string{line}});
  }
  if (!faults.none()) return faults.error();
  return lines;
}

void AssetFaults::add(int line, const std::string& what) {
  faults_.push_back("line " + std::to_string(line) + ": " + what);
}

Error AssetFaults::error() const {
  std::string text;
  for (std::size_t i = 0; i < std::min(faults_.size(), most_told); ++i) text += (i == 0 ? "" : "\n") + faults_[i];
  if (faults_.size() > most_told) text += "\nand " + std::to_string(faults_.size() - most_told) + " more.";
  return Error{Code::invalid, text};
}

std::vector<std::string> bar_fields(std::string_view text) {
  std::vector<std::string> fields = split(text, '|');
  for (std::string& field : fields) field = std::string{trimmed(field)};
  return fields;
}

bool is_asset_name(std::string_view name) {
  if (name.empty() || name.size() > 40 || !is_small_letter(name.front()) || name.back() == '-') return false;
  if (name.find("--") != std::string_view::npos) return false;
  return std::all_of(name.begin(), name.end(), [](char c) { return is_small_letter(c) || is_digit(c) || c == '-'; });
}

bool split_key(std::string_view text, KeyValue& out) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || colon == 0) return false;
  const std::string_view key = text.substr(0, colon);
  if (!std::all_of(key.begin(), key.end(), [](char c) { return is_small_letter(c); })) return false;
  out = {std::string{key}, std::string{trimmed(text.substr(colon + 1))}};
  return true;
}

}  // namespace jigtime::handbook
