#include "app/view/entry.h"

#include <algorithm>
#include <cctype>

#include "app/view/words.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

std::string lowered(std::string_view text) {
  std::string low{text};
  for (char& c : low) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return low;
}

bool holds_all(const std::string& title, const std::vector<std::string>& words) {
  return std::all_of(words.begin(), words.end(),
                     [&](const std::string& word) { return title.find(word) != std::string::npos; });
}

/// H:MM:SS from what may lack hours and minutes.
std::string completed(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  const auto colons = std::count(text.begin(), text.end(), ':');
  if (colons == 0) {
    const auto whole = std::string_view{text}.substr(0, text.find('.'));
    if (whole.empty() || whole.size() > 6 || !std::all_of(whole.begin(), whole.end(), [](char c) { return c >= '0' && c <= '9'; })) return {};
    const int seconds = std::stoi(std::string{whole});
    const std::string two = std::to_string(100 + seconds % 60).substr(1);
    return std::to_string(seconds / 3600) + ":" + std::to_string(100 + seconds / 60 % 60).substr(1) + ":" + two +
           text.substr(whole.size());
  }
  if (colons == 1) return (text.find(':') == 1 ? "0:0" : "0:") + text;
  return text;
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
