#include <algorithm>
#include <initializer_list>

#include "base/text.h"
#include "journal/rule_text.h"
#include "journal/rules.h"

namespace jigtime::journal {
namespace {

constexpr std::size_t longest_name = 200;
constexpr std::size_t longest_quote = 60;

enum class LineEnds { allowed, refused };

/// C0, DEL and C1 (which UTF-8 writes as C2 80 to C2 9F).
bool has_control(std::string_view text, LineEnds line_ends) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const bool blank = byte == '\t' || byte == '\n' || byte == '\r';
    if (blank && line_ends == LineEnds::allowed) continue;
    if (byte < 0x20 || byte == 0x7F) return true;
    if (byte == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0) return true;
  }
  return false;
}

bool holds_any(std::string_view text, std::initializer_list<std::string_view> letters) {
  return std::any_of(letters.begin(), letters.end(),
                     [&](std::string_view letter) { return text.find(letter) != std::string_view::npos; });
}

/// Zero-width spaces, ends of lines, and marks that turn the order of what is read. Two names that look the same would
/// be two people, and a sealed text would not read as it is written. Joiners that scripts and signs need are none of
/// these.
bool has_unseen(std::string_view text) {
  return holds_any(text, {"\u200B", "\u2028", "\u2029", "\u2060", "\uFEFF", "\u202A", "\u202B", "\u202C", "\u202D",
                          "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"});
}

/// No writing needs an override, which makes a text read as another; the last two are no characters (The Unicode
/// Standard, 23.7), and no XML holds them.
bool has_misread(std::string_view text) { return holds_any(text, {"\u202D", "\u202E", "\uFFFE", "\uFFFF"}); }

Done check_letters(std::string_view text, std::string what, LineEnds line_ends) {
  if (!is_utf8(text)) return invalid(what + " " + in_quotes(text) + " is not UTF-8. Type it again.");
  if (has_control(text, line_ends)) {
    return invalid(what + " " + in_quotes(text) + " holds a control character" +
                   (line_ends == LineEnds::refused ? " or a line end" : "") + ". Take it out.");
  }
  if (has_misread(text)) {
    return invalid(what + " " + in_quotes(text) +
                   " holds a letter that cannot be seen and makes it read as another text. Type it again by hand.");
  }
  return {};
}

Done check_timing(const Part& part, const std::string& name) {
  if (part.clip_from < ClipTime{} || part.length < Length{0} || !within_reach(part.length) ||
      !within_reach(part.clip_from.time_since_epoch())) {
    return invalid("The part " + name + " has an impossible time. Copy the file again and import it anew.");
  }
  return {};
}

}  // namespace

std::string in_quotes(std::string_view text) {
  std::string shown = to_utf8(text.substr(0, longest_quote));
  for (char& c : shown) {
    if (c == '\n' || c == '\t') c = ' ';
  }
  return "\"" + shown + (text.size() > longest_quote ? "...\"" : "\"");
}

Done check_name(std::string_view name, std::string_view what) {
  if (trimmed(name).empty()) return invalid(std::string{what} + " is empty. Give one.");
  return check_short_text(name, what);
}

Done check_short_text(std::string_view text, std::string_view what) {
  const std::string subject{what};
  if (Done letters = check_letters(text, subject, LineEnds::refused); !letters) return letters;
  if (has_unseen(text)) {
    return invalid(subject + " " + in_quotes(text) + " holds a letter that cannot be seen. Type it again by hand.");
  }
  if (trimmed(text).size() != text.size()) {
    return invalid(subject + " " + in_quotes(text) + " begins or ends with a blank. Take it away.");
  }
  if (text.size() > longest_name) {
    return invalid(subject + " " + in_quotes(text) + " is " + std::to_string(text.size()) +
                   " bytes long. Shorten it to at most " + std::to_string(longest_name) + ".");
  }
  return {};
}

Done check_note(std::string_view text, std::string_view what) {
  return check_letters(text, std::string{what}, LineEnds::allowed);
}

Done check(const Build& build) {
  if (Done name = check_name(build.name, "The build's name"); !name) return name;
  if (Done text = check_short_text(build.registration, "The registration"); !text) return text;
  if (Done text = check_short_text(build.place, "The place"); !text) return text;
  if (Done text = check_short_text(build.zone, "The time zone"); !text) return text;
  if (Done text = check_short_text(build.regime, "The regime's name"); !text) return text;
  return check_note(build.regime_text, "The regime's text");
}

Done check(const Person& person) { return check_name(person.name, "The person's name"); }

Done check(const Assembly& assembly) {
  if (Done name = check_name(assembly.name, "The assembly's name"); !name) return name;
  if (assembly.name.find('/') != std::string::npos) {
    return invalid("The assembly's name " + in_quotes(assembly.name) +
                   " holds '/', which stands between the levels of a path. Add the levels one by one.");
  }
  return {};
}

Done check(const Task& task) {
  if (Done title = check_name(task.title, "The task's title"); !title) return title;
  if (Done text = check_short_text(task.plan_sheet, "The plan sheet"); !text) return text;
  return check_short_text(task.plan_step, "The plan step");
}

Done check(const Camera& camera) { return check_name(camera.name, "The camera's name"); }

Done check(const Session& session) {
  if (!session.date.ok() || session.date.year() < std::chrono::year{0} ||
      session.date.year() > std::chrono::year{9999}) {
    return invalid("The session's date is no date of the calendar. Write it as YYYY-MM-DD.");
  }
  // Years 0 to 9999 do not all fit nanoseconds since 1970; what does is within reach.
  if (session.zero && !within_reach(session.zero->time_since_epoch())) {
    return invalid("The session begins more than a hundred years from 1970. Check the camera clocks, or set its time.");
  }
  if (session.zero_fixed && !session.zero) {
    return invalid("The session's beginning is said to be the builder's, but there is none. Give its time of day.");
  }
  return check_note(session.note, "The session's note");
}

Done check(const Clip& clip) {
  if (clip.parts.empty()) return invalid("The clip has no file. Import at least one.");
  if (clip.length < Length{0} || !within_reach(clip.length)) {
    return invalid("The clip " + in_quotes(clip.name()) + " has an impossible length. Copy the file again.");
  }
  const Part* before = nullptr;
  for (const Part& part : clip.parts) {
    const std::string name = in_quotes(part.path.filename().string());
    if (part.path.empty()) return invalid("A part of the clip has no path. Import the file again.");
    if (Done timing = check_timing(part, name); !timing) return timing;
    if (before != nullptr && part.clip_from < before->clip_from) {
      return invalid("The part " + name + " begins before the part in front of it. Import the files in order.");
    }
    before = &part;
  }
  return {};
}

}  // namespace jigtime::journal
