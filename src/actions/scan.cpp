#include "actions/scan.h"

#include <algorithm>
#include <cctype>
#include <system_error>

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

/// The digits at the front without leading zeros; `text` moves behind them.
std::string_view take_number(std::string_view& text) {
  std::size_t length = 0;
  while (length < text.size() && is_digit(text[length])) ++length;
  std::string_view digits = text.substr(0, length);
  text.remove_prefix(length);
  digits.remove_prefix(std::min(digits.find_first_not_of('0'), digits.size()));
  return digits;
}

bool is_hidden(const fs::path& path) {
  const std::string name = path.filename().string();
  return name.size() > 1 && name.front() == '.' && name != "..";
}

void walk(const fs::path& folder, Scan& into) {
  std::error_code failure;
  fs::directory_iterator entry{folder, failure};
  if (failure) {
    into.refused.push_back({folder, "This folder may not be read (" + failure.message() +
                                        "). Give yourself permission to read it, then import it again."});
    return;
  }
  for (; entry != fs::directory_iterator{}; entry.increment(failure)) {
    if (is_hidden(entry->path())) continue;
    std::error_code unknown;
    if (entry->is_directory(unknown)) {
      if (!entry->is_symlink(unknown)) walk(entry->path(), into);
    } else if (entry->is_regular_file(unknown)) {
      into.files.push_back(entry->path());
    }
    if (failure) break;
  }
}

}  // namespace

bool natural_less(std::string_view a, std::string_view b) {
  const std::string_view whole_a = a;
  const std::string_view whole_b = b;
  while (!a.empty() && !b.empty()) {
    if (is_digit(a.front()) && is_digit(b.front())) {
      const std::string_view x = take_number(a);
      const std::string_view y = take_number(b);
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
    } else {
      if (a.front() != b.front()) return a.front() < b.front();
      a.remove_prefix(1);
      b.remove_prefix(1);
    }
  }
  if (a.empty() != b.empty()) return a.empty();
  return whole_a < whole_b;
}

Result<Scan> scan(const fs::path& path) {
  std::error_code failure;
  const fs::file_status status = fs::status(path, failure);
  if (status.type() == fs::file_type::not_found) {
    return Error{Code::not_found, "There is no \"" + path.string() + "\". Check the path, or plug in the card again."};
  }
  if (failure) return Error{Code::denied, "\"" + path.string() + "\" may not be read (" + failure.message() + ")."};
  Scan found;
  if (fs::is_directory(status)) {
    walk(path, found);
  } else {
    found.files.push_back(path);
  }
  std::sort(found.files.begin(), found.files.end(),
            [](const fs::path& a, const fs::path& b) { return natural_less(a.native(), b.native()); });
  return found;
}

}  // namespace jigtime::actions
