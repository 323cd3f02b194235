#include "app/view/fastener_entry.h"

#include <algorithm>
#include <cctype>

#include "app/view/entry.h"
#include "app/view/words.h"
#include "base/text.h"
#include "handbook/callout.h"
#include "handbook/callout_tables.h"

namespace jigtime::app {
namespace {

struct Typed {
  std::string callout;  ///< as typed
  std::string counts;   ///< "72", "72-2"; empty where none was typed
  std::string method;   ///< "squeezed"; may be empty
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The last sign that stands between call-out and count: an x (or X, or the multiplication sign), a star, an equals.
std::size_t sign_at(std::string_view text, std::size_t& length) {
  if (text.starts_with("x ") || text.starts_with("X ")) return 0;
  for (std::size_t i = text.size(); i-- > 1;) {
    length = 1;
    if (text[i] == '=' || text[i] == '*') return i;
    const bool before = text[i - 1] == ' ' || is_digit(text[i - 1]);
    if ((text[i] == 'x' || text[i] == 'X') && before) return i;
    if (i >= 1 && text.substr(i - 1, 2) == "\xC3\x97") {
      length = 2;
      return i - 1;
    }
  }
  return std::string_view::npos;
}

Typed taken_apart(std::string_view typed) {
  std::size_t length = 1;
  const std::size_t sign = sign_at(typed, length);
  if (sign == std::string_view::npos) return {std::string{trimmed(typed)}, {}, {}};
  Typed parts{std::string{trimmed(typed.substr(0, sign))}, {}, {}};
  const std::string_view rest = trimmed(typed.substr(sign + length));
  const std::size_t word = static_cast<std::size_t>(
      std::find_if(rest.begin(), rest.end(), [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }) -
      rest.begin());
  for (const char c : rest.substr(0, word)) {
    if (c != ' ' && c != ':') parts.counts += c;
  }
  parts.method = lowered(trimmed(rest.substr(word)));
  return parts;
}

/// "426 3-4" or "3-4": what a short form says.
struct Short {
  std::string sheet;  ///< "426"; may be empty
  std::string dash;   ///< "3-4.5"
};

bool is_dash(std::string_view text) {
  const std::size_t at = text.find('-');
  if (at == 0 || at == std::string_view::npos || at + 1 == text.size()) return false;
  return std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || c == '-' || c == '.'; });
}

std::optional<Short> short_form(std::string_view text) {
  std::string plain{text};
  std::replace(plain.begin(), plain.end(), ',', '.');
  const std::size_t blank = plain.find(' ');
  if (blank == std::string::npos) return is_dash(plain) ? std::optional{Short{{}, plain}} : std::nullopt;
  Short found{plain.substr(0, blank), std::string{trimmed(std::string_view{plain}.substr(blank))}};
  return is_dash(found.dash) && std::all_of(found.sheet.begin(), found.sheet.end(), is_digit) ? std::optional{found}
                                                                                              : std::nullopt;
}

/// "MS20426AD3-4.5" ends in the dash numbers "3-4.5"; before them stands the sheet, "MS20426AD".
Short taken_apart_callout(std::string_view callout) {
  std::size_t at = callout.size();
  while (at > 0 && (is_digit(callout[at - 1]) || callout[at - 1] == '-' || callout[at - 1] == '.')) --at;
  std::string_view sheet = callout.substr(0, at);
  while (!sheet.empty() && !is_digit(sheet.back())) sheet.remove_suffix(1);
  return {std::string{sheet}, std::string{callout.substr(at)}};
}

bool means(std::string_view callout, const Short& wanted) {
  const Short whole = taken_apart_callout(callout);
  return whole.dash == wanted.dash && whole.sheet.ends_with(wanted.sheet);
}

/// Where more of the length may still be typed: "3-3" may become "3-3.5".
bool may_become(std::string_view callout, const Short& wanted) {
  const Short whole = taken_apart_callout(callout);
  return whole.dash.starts_with(wanted.dash) && whole.sheet.ends_with(wanted.sheet);
}

void offer(std::vector<std::string>& list, const std::string& callout) {
  if (std::find(list.begin(), list.end(), callout) == list.end()) list.push_back(callout);
}

std::vector<std::string> meant(const Short& wanted, const std::vector<std::string>& likely) {
  std::vector<std::string> found;
  for (const std::string& callout : likely) {
    if (means(callout, wanted)) offer(found, callout);
  }
  return found;
}

Result<std::string> callout_of(const std::string& typed, const std::vector<std::string>& likely) {
  if (typed.empty()) return Error{Code::invalid, std::string{say(Word::fastener_form)}};
  if (const auto wanted = short_form(typed)) {
    const auto found = meant(*wanted, likely);
    if (found.size() == 1) return found.front();
    if (found.empty()) return Error{Code::invalid, say(Word::short_unknown, {wanted->dash})};
    return Error{Code::invalid, say(Word::short_several, {typed, listed(found)})};
  }
  const auto callout = handbook::parse_callout(typed);
  if (!callout) return callout.error();
  return callout->canonical();
}

bool is_count(std::string_view text) {
  return !text.empty() && text.size() <= 5 && std::all_of(text.begin(), text.end(), is_digit);
}

Done check_counts(const std::string& counts) {
  const std::size_t dash = counts.find('-');
  const bool good = is_count(std::string_view{counts}.substr(0, dash)) &&
                    (dash == std::string::npos || is_count(std::string_view{counts}.substr(dash + 1)));
  if (!good) return Error{Code::invalid, std::string{say(Word::fastener_form)}};
  return {};
}

Result<std::string> method_of(const std::string& word) {
  if (word.empty()) return std::string{};
  for (const std::string_view known : {"driven", "squeezed", "pulled", "other"}) {
    if (known.starts_with(word)) return ":" + std::string{known};
  }
  return Error{Code::invalid, say(Word::method_unknown, {word})};
}

/// What the handbook takes the call-out for. Of a short form the sheets of solid rivets that have the size, in the
/// alloy that is driven as it comes; other alloys are typed whole.
std::vector<std::string> in_handbook(const std::string& typed, const std::optional<Short>& brief) {
  std::vector<std::string> found;
  const auto take = [&found](const std::string& text) {
    if (const auto callout = handbook::parse_callout(text)) found.push_back(callout->canonical());
  };
  if (!brief) {
    take(typed);
    return found;
  }
  for (const handbook::StandardSheet& sheet : handbook::all_sheets()) {
    if (sheet.kind == handbook::FastenerKind::solid && sheet.name.ends_with(brief->sheet))
      take(std::string{sheet.name} + "AD" + brief->dash);
  }
  return found;
}

}  // namespace

std::vector<std::string> likely_callouts(const journal::Register& known, const journal::SessionRecord& record,
                                         std::string_view task) {
  std::vector<std::string> list;
  const journal::Task* chosen = known.task(task);
  for (const journal::PlannedFastener& planned : known.planned) {
    if (chosen != nullptr && planned.task == chosen->id) offer(list, planned.callout);
  }
  for (const journal::PlannedFastener& planned : known.planned) offer(list, planned.callout);
  for (auto span = record.spans.rbegin(); span != record.spans.rend(); ++span) {
    for (const journal::FastenerLine& line : span->fasteners) offer(list, line.callout);
  }
  return list;
}

Result<std::string> read_fasteners(std::string_view typed, const std::vector<std::string>& likely) {
  const Typed parts = taken_apart(typed);
  const auto callout = callout_of(parts.callout, likely);
  if (!callout) return callout.error();
  if (const Done counts = check_counts(parts.counts); !counts) return counts.error();
  const auto method = method_of(parts.method);
  if (!method) return method.error();
  return *callout + "=" + parts.counts + *method;
}

Result<std::string> read_planned(std::string_view typed, const std::vector<std::string>& likely) {
  const std::string_view grip = trimmed(typed.substr(std::min(typed.find('@'), typed.size())));
  const Typed parts = taken_apart(trimmed(typed.substr(0, typed.find('@'))));
  if (parts.callout.empty() || !is_count(parts.counts) || !parts.method.empty())
    return Error{Code::invalid, std::string{say(Word::plan_form)}};
  const auto callout = callout_of(parts.callout, likely);
  if (!callout) return callout.error();
  return *callout + "=" + parts.counts + std::string{grip};
}

std::vector<std::string> completions(std::string_view typed, const std::vector<std::string>& likely, std::size_t most) {
  const Typed parts = taken_apart(typed);
  const std::string wanted = lowered(parts.callout);
  const auto brief = short_form(parts.callout);
  std::vector<std::string> found;
  if (brief) found = meant(*brief, likely);
  for (const std::string& callout : likely) {
    const bool fits = brief ? parts.counts.empty() && may_become(callout, *brief)
                            : lowered(callout).find(wanted) != std::string::npos;
    if (fits) offer(found, callout);
  }
  for (const std::string& callout : in_handbook(parts.callout, brief)) offer(found, callout);
  if (found.size() > most) found.resize(most);
  std::string behind = parts.counts.empty() ? " x " : " x " + parts.counts;
  if (!parts.method.empty()) behind += " " + parts.method;
  for (std::string& line : found) line += behind;
  return found;
}

}  // namespace jigtime::app
