#include "handbook/callout.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "handbook/callout_tables.h"

namespace jigtime::handbook {
namespace {

constexpr std::size_t longest_text = 60;
// From memory: the longest stock lengths are near 4 in. A larger number is a slip of the pen.
constexpr int longest_16ths = 64;
constexpr int longest_grip_16ths = 32;

/// Upper case, dashes of printed matter turned into the plain one.
std::string plain_spelling(std::string_view text) {
  constexpr std::string_view printed_dashes[] = {"‐", "‑", "‒", "–", "−"};
  std::string plain{trimmed(text)};
  for (const std::string_view dash : printed_dashes) {
    for (auto at = plain.find(dash); at != std::string::npos; at = plain.find(dash, at)) {
      plain.replace(at, dash.size(), "-");
    }
  }
  std::transform(plain.begin(), plain.end(), plain.begin(),
                 [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  return plain;
}

/// Takes the text apart. Blanks may stand between parts, never inside one.
class Reader {
 public:
  explicit Reader(std::string_view text) : rest_{text} {}

  std::string letters() {
    return take([](char c) { return c >= 'A' && c <= 'Z'; });
  }
  std::string digits() {
    return take([](char c) { return c >= '0' && c <= '9'; });
  }
  bool sign(char wanted) {
    skip_blanks();
    if (rest_.empty() || rest_.front() != wanted) return false;
    rest_.remove_prefix(1);
    return true;
  }
  /// A dash or nothing; a second one is left where it is.
  void optional_dash() { static_cast<void>(sign('-')); }
  std::string_view rest() {
    skip_blanks();
    return rest_;
  }

 private:
  template <class Fits>
  std::string take(Fits fits) {
    skip_blanks();
    std::size_t count = 0;
    while (count < rest_.size() && fits(rest_[count])) ++count;
    std::string part{rest_.substr(0, count)};
    rest_.remove_prefix(count);
    return part;
  }
  void skip_blanks() {
    while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) rest_.remove_prefix(1);
  }
  std::string_view rest_;
};

/// -1 when there are no digits or too many to be a size.
int to_number(const std::string& digits) {
  if (digits.empty() || digits.size() > 3) return -1;
  return std::stoi(digits);
}

template <class Items, class ToText>
std::string listing(const Items& items, ToText to_words) {
  std::vector<std::string> words;
  for (const auto& item : items) words.push_back(to_words(item));
  return listed(words);
}

std::string known_standards() {
  std::vector<std::string> words;
  for (const OtherName& row : all_other_names()) {
    if (row.spelling.substr(0, 2) == "AN") words.emplace_back(row.spelling);
  }
  for (const StandardSheet& sheet : all_sheets()) {
    // The sixteen bulbed ones are consecutive: naming each would bury the others.
    if (sheet.name.substr(0, 5) != "NAS93") words.emplace_back(sheet.name);
  }
  words.emplace_back("NAS9301 to NAS9316");
  return listed(words);
}

std::string dash_length_text(int length_32nds) {
  return std::to_string(length_32nds / 2) + (length_32nds % 2 == 0 ? "" : ".5");
}

/// One call-out being read; every step returns what is wrong, or nothing.
class CalloutReader {
 public:
  explicit CalloutReader(std::string_view text) : text_{plain_spelling(text)}, reader_{text_} {}

  Result<Callout> read() {
    if (text_.empty()) return refuse("is empty; write it like MS20470AD4-5");
    if (text_.size() > longest_text) return refuse("is longer than any part number; write it like MS20470AD4-5");
    for (auto step : {&CalloutReader::read_standard, &CalloutReader::read_material, &CalloutReader::read_diameter,
                      &CalloutReader::read_size, &CalloutReader::read_end}) {
      if (const std::optional<std::string> fault = (this->*step)()) return refuse(*fault);
    }
    return callout_;
  }

 private:
  using Fault = std::optional<std::string>;

  Error refuse(const std::string& what) const {
    if (text_.empty()) return Error{Code::invalid, "The call-out " + what + "."};
    std::string shown = to_utf8(text_.substr(0, longest_text));
    std::replace(shown.begin(), shown.end(), '\n', ' ');
    if (text_.size() > longest_text) shown += "...";
    return Error{Code::invalid, "Call-out \"" + shown + "\": " + what + "."};
  }

  Fault read_standard() {
    const std::string prefix = reader_.letters();
    if (prefix == "BJ" || prefix == "BB") {
      return prefix + " is a drawing code (NAS523); on the drawing it stands for " +
             (prefix == "BJ" ? "MS20470AD" : "MS20426AD") + ", write that";
    }
    if (prefix != "AN" && prefix != "MS" && prefix != "NAS" && prefix != "NASM") return missing_standard(prefix);
    reader_.optional_dash();
    const std::string spelling = prefix + reader_.digits();
    const OtherName* other = find_other_name(spelling);
    sheet_ = find_sheet(other != nullptr ? other->name : std::string_view{spelling});
    if (sheet_ == nullptr) {
      return "standard " + spelling + " is not in the handbook, which has " + known_standards();
    }
    callout_.standard = sheet_->name;
    callout_.kind = sheet_->kind;
    callout_.head = sheet_->head;
    if (other != nullptr) {
      callout_.notes.push_back(spelling + " " + std::string{other->why} + " " + callout_.standard + " (" +
                               to_text(other->source) + ").");
    }
    add_note(sheet_->note);
    return {};
  }

  Fault missing_standard(const std::string& prefix) const {
    const std::string start = prefix.empty() ? "it" : "\"" + prefix + "\"";
    return start + " does not name a standard, so the head is unknown; begin with one of " + known_standards() +
           ", as in MS20470AD4-5";
  }

  Fault read_material() {
    reader_.optional_dash();
    callout_.material = reader_.letters();
    if (const Fault fault = material_fault()) return fault;
    if (sheet_->letters.empty()) {
      add_note("Whether material " + callout_.material + " exists under " + callout_.standard +
               " was not checked: its letters are not at hand.");
    }
    if (const MaterialLetter* row = find_letter(callout_.kind, callout_.standard, callout_.material)) {
      callout_.alloy = row->alloy;
      add_note(row->note);
    }
    return {};
  }

  Fault material_fault() const {
    const auto& letters = sheet_->letters;
    const std::string have =
        letters.empty() ? "one or two" : listing(letters, [](std::string_view l) { return std::string{l}; });
    if (callout_.material.empty()) {
      return "the material letters are missing after " + callout_.standard + "; it has " + have;
    }
    const bool known = letters.empty() ? callout_.material.size() <= 2
                                       : std::find(letters.begin(), letters.end(), callout_.material) != letters.end();
    if (known) return {};
    return "material " + callout_.material + " does not exist under " + callout_.standard + "; it has " + have;
  }

  Fault read_diameter() {
    reader_.optional_dash();
    digits_ = reader_.digits();
    if (digits_.empty()) {
      return "the diameter (thirty-seconds of an inch) is missing after " + callout_.standard + callout_.material +
             ", as in " + std::string{sheet_->example};
    }
    callout_.diameter_32nds = to_number(digits_);
    const auto& sizes = sheet_->diameters_32nds;
    if (reader_.sign('.') || reader_.sign(',')) {
      digits_ += "." + reader_.digits();
      return no_such_diameter();
    }
    if (std::find(sizes.begin(), sizes.end(), callout_.diameter_32nds) == sizes.end()) {
      if (reader_.rest().empty() && digits_.size() > 1) return missing_size();
      return no_such_diameter();
    }
    if (callout_.kind == FastenerKind::solid) note_odd_diameter();
    return {};
  }

  std::string no_such_diameter() const {
    const std::string have = listing(sheet_->diameters_32nds, [](int size) { return std::to_string(size); });
    return "diameter " + digits_ + "/32 does not exist under " + callout_.standard + "; it has " + have +
           " thirty-seconds of an inch" + (sheet_->letters.empty() ? " (from memory: look at its sheet)" : "");
  }

  void note_odd_diameter() {
    if (callout_.diameter_32nds == 7) {
      add_note("A diameter of 7/32 in is no usual stock size (from memory, not checked against a document).");
    } else if (callout_.diameter_32nds < 3) {
      add_note("No rivet under 3/32 in belongs in structure (US Navy training manual 14018, rivet selection, rule 5).");
    }
  }

  Fault missing_size() const {
    const std::string start = callout_.standard + callout_.material;
    const bool solid = callout_.kind == FastenerKind::solid;
    std::string fault = solid ? "the length (sixteenths of an inch) is missing" : "the grip number is missing";
    fault += "; a call-out ends in a dash and a number, as in " + std::string{sheet_->example};
    const int first = digits_.front() - '0';
    const auto& sizes = sheet_->diameters_32nds;
    if (digits_.size() > 1 && std::find(sizes.begin(), sizes.end(), first) != sizes.end()) {
      fault += "; if " + digits_.substr(0, 1) + "/32 was meant, write " + start + digits_.substr(0, 1) + "-" +
               digits_.substr(1);
    }
    return fault;
  }

  Fault read_size() { return callout_.kind == FastenerKind::solid ? read_length() : read_grip(); }

  Fault read_length() {
    if (!reader_.sign('-')) return reader_.rest().empty() ? missing_size() : Fault{unexpected()};
    if (!reader_.rest().empty() && reader_.rest().front() == '-') {
      return "there are two dashes before the length; one is right, as in " + std::string{sheet_->example};
    }
    const std::string digits = reader_.digits();
    if (digits.empty()) return missing_size();
    const int whole = to_number(digits);
    int halves = 0;
    if (reader_.sign('.') || reader_.sign(',')) {
      const std::string fraction = reader_.digits();
      if (fraction != "5") {
        return "length " + digits + "." + fraction + " does not exist; besides whole sixteenths there is only " +
               digits + ".5";
      }
      halves = 1;
    }
    if (whole < 1 || whole > longest_16ths) {
      return "length " + digits + (halves == 1 ? ".5" : "") + "/16 does not exist; lengths run from 1 to " +
             std::to_string(longest_16ths) + " sixteenths of an inch";
    }
    callout_.length_32nds = whole * 2 + halves;
    note_forgotten_point(whole, halves);
    return {};
  }

  /// "-35" is right for a very long rivet and a slip for 3.5: it is kept as written, and said.
  void note_forgotten_point(int whole, int halves) {
    if (halves != 0 || whole < 25 || whole % 10 != 5) return;
    add_note("Length " + std::to_string(whole) + " is read as " + std::to_string(whole) +
             "/16 in; if a half length was meant, write " + std::to_string(whole / 10) + ".5.");
  }

  Fault read_grip() {
    if (!reader_.sign('-')) {
      callout_.stem = reader_.letters();
      if (callout_.stem.empty()) return reader_.rest().empty() ? missing_size() : Fault{unexpected()};
      if (callout_.stem != "W" && callout_.stem != "K") {
        return "\"" + callout_.stem + "\" after the diameter does not exist; a dash, W or K can stand there";
      }
      add_note("Letter " + callout_.stem + " after the diameter stands for the kind of stem (" +
               (callout_.stem == "W" ? "serrated" : "knob") + "; from memory, look at the standard's sheet).");
      reader_.optional_dash();
    }
    const std::string digits = reader_.digits();
    if (digits.empty()) return missing_size();
    callout_.grip_16ths = to_number(digits);
    if (callout_.grip_16ths < 1 || callout_.grip_16ths > longest_grip_16ths) {
      return "grip number " + digits + " does not exist; grips run from 1 to " + std::to_string(longest_grip_16ths) +
             " sixteenths of an inch";
    }
    return {};
  }

  Fault read_end() {
    if (reader_.rest().empty()) return {};
    return unexpected();
  }

  std::string unexpected() {
    return "\"" + to_utf8(reader_.rest()) + "\" is not understood there; without it, the shape is " +
           std::string{sheet_->example};
  }

  void add_note(std::string_view note) {
    if (!note.empty()) callout_.notes.emplace_back(note);
  }

  std::string text_;
  Reader reader_;
  const StandardSheet* sheet_ = nullptr;
  std::string digits_;
  Callout callout_;
};

std::string two_digits(int number) { return (number < 10 ? "0" : "") + std::to_string(number); }

}  // namespace

const std::string_view caution =
    "Reference values only. The kit's plans and manual, the designer's specification, local rules and a licensed or "
    "authorised inspector come first. This tool neither approves nor rejects work.";

std::string Callout::canonical() const {
  const std::string start = standard + material;
  if (kind == FastenerKind::solid) return start + std::to_string(diameter_32nds) + "-" + dash_length_text(length_32nds);
  const StandardSheet* sheet = find_sheet(standard);
  const std::string between = stem.empty() ? "-" : stem;
  if (sheet != nullptr && sheet->two_digits)
    return start + two_digits(diameter_32nds) + between + two_digits(grip_16ths);
  return start + std::to_string(diameter_32nds) + between + std::to_string(grip_16ths);
}

Result<Callout> parse_callout(std::string_view text) { return CalloutReader{text}.read(); }

}  // namespace jigtime::handbook
