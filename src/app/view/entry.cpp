#include "app/view/entry.h"

#include <algorithm>
#include <cctype>
#include <optional>

#include "app/view/words.h"
#include "base/text.h"

namespace jigtime::app {

std::string lowered(std::string_view typed) {
  std::string low{typed};
  for (char& c : low) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return low;
}

namespace {

bool holds_all(const std::string& title, const std::vector<std::string>& words) {
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& word) { return title.find(word) != std::string::npos; });
}

std::optional<int> whole_number(std::string_view text) {
  const bool digits = std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (text.empty() || text.size() > 6 || !digits) return std::nullopt;
  return std::stoi(std::string{text});
}

std::string two_digits(int number) { return std::to_string(100 + number % 100).substr(1); }

/// H:MM:SS from what may lack hours and minutes; minutes by themselves, or seconds, may be more than 59.
std::string completed(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  const auto colons = std::count(text.begin(), text.end(), ':');
  const std::string head = text.substr(0, text.find(colons == 0 ? '.' : ':'));
  const auto number = whole_number(head);
  if (!number || colons > 1) return text;
  const std::string rest = text.substr(head.size());
  if (colons == 1) return std::to_string(*number / 60) + ":" + two_digits(*number % 60) + rest;
  return std::to_string(*number / 3600) + ":" + two_digits(*number / 60 % 60) + ":" + two_digits(*number % 60) + rest;
}

}  // namespace

std::vector<std::string> matching_titles(std::string_view typed, const std::vector<std::string>& titles,
                                         std::size_t most) {
  const std::string wanted = lowered(trimmed(typed));
  std::vector<std::string> words;
  for (const std::string& word : split(wanted, ' ')) {
    if (!word.empty()) words.push_back(word);
  }
  std::vector<std::string> found;
  for (const bool at_start : {true, false}) {
    for (const std::string& title : titles) {
      const std::string low = lowered(title);
      if (low.starts_with(wanted) == at_start && holds_all(low, words) && found.size() < most) found.push_back(title);
    }
  }
  return found;
}

Result<Waiting> read_waiting(std::string_view typed) {
  const std::string_view text = trimmed(typed);
  const std::size_t blank = text.find(' ');
  const auto kind = journal::parse_item_kind(lowered(text.substr(0, blank)));
  const std::string_view words = blank == std::string_view::npos ? std::string_view{} : trimmed(text.substr(blank));
  if (!kind || words.empty()) return Error{Code::invalid, std::string{say(Word::waits_form)}};
  return Waiting{*kind, std::string{words}};
}

Result<SessionTime> read_moment(std::string_view typed, SessionTime now) {
  std::string_view text = trimmed(typed);
  const bool relative = !text.empty() && (text.front() == '+' || text.front() == '-');
  const bool back = relative && text.front() == '-';
  if (relative) text = trimmed(text.substr(1));
  const auto length = parse_clock_text(completed(std::string{text}));
  if (!length) return Error{Code::invalid, std::string{say(Word::time_form)}};
  if (!relative) return SessionTime{*length};
  return std::max(SessionTime{}, back ? now - *length : now + *length);
}

}  // namespace jigtime::app
