#include "handbook/checklist.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "base/text.h"
#include "handbook/asset_text.h"

namespace jigtime::handbook {
namespace {

constexpr std::string_view heading = "jigtime checklist 1";
constexpr std::size_t longest_words = 200;
constexpr std::string_view row_shape =
    "a row is \"NUMBER | A B C D | Title\", for example \"3.1 | 5 3 0 2 | Rivet skins\"";

std::optional<std::string> words_fault(const std::string& words, std::string_view what) {
  if (words.empty()) return std::string{what} + " is missing.";
  if (words.size() > longest_words) return std::string{what} + " is longer than 200 bytes.";
  return std::nullopt;
}

/// "-3" and "+3" are numbers too: a sign is told apart from what is none.
Result<int> parse_tenth(const std::string& word) {
  const bool digits =
      !word.empty() && std::all_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (digits && word.size() <= 2) return std::stoi(word);
  if (digits) return Error{Code::invalid, word + " tenths are more than a point has."};
  if (word.starts_with('-')) return Error{Code::invalid, word + " tenths cannot be: nothing is below 0."};
  return Error{Code::invalid, "\"" + word + "\" is no whole number of tenths: half a point is written 5."};
}

class ChecklistReader {
 public:
  Result<ChecklistText> read(const std::vector<AssetLine>& lines) {
    for (const AssetLine& line : lines) take(line);
    const int last = lines.empty() ? 1 : lines.back().number;
    for (const char* key : {"name", "title", "source", "official"}) {
      if (!keys_.contains(key)) faults_.add(last, "the file ends without a line \"" + std::string{key} + ": ...\".");
    }
    if (list_.rows.empty()) faults_.add(last, "the file ends without a row; " + std::string{row_shape} + ".");
    if (!faults_.none()) return faults_.error();
    return list_;
  }

 private:
  void take(const AssetLine& line) {
    KeyValue pair;
    if (line.text.find('|') != std::string::npos) return take_row(line);
    if (!split_key(line.text, pair))
      return faults_.add(line.number, "it is neither \"key: words\" nor a row; " + std::string{row_shape} + ".");
    if (const auto fault = words_fault(pair.value, "what stands behind \"" + pair.key + ":\"")) {
      return faults_.add(line.number, *fault);
    }
    if (pair.key == "section") {
      section_ = pair.value;
      return;
    }
    if (!keys_.insert(pair.key).second) return faults_.add(line.number, "\"" + pair.key + "\" stands there twice.");
    take_key(line, pair);
  }

  void take_key(const AssetLine& line, const KeyValue& pair) {
    if (pair.key == "name") {
      list_.name = pair.value;
      if (!is_asset_name(pair.value)) {
        faults_.add(line.number,
                    "the name is made of small letters, digits and single dashes, for example metal-starter.");
      }
    } else if (pair.key == "title") {
      list_.title = pair.value;
    } else if (pair.key == "source") {
      list_.source = pair.value;
    } else if (pair.key == "official") {
      list_.official = pair.value == "yes";
      if (pair.value != "yes" && pair.value != "no") faults_.add(line.number, "official is yes or no.");
    } else {
      faults_.add(line.number,
                  "there is no key \"" + pair.key + "\"; there are name, title, source, official and section.");
    }
  }

  void take_row(const AssetLine& line) {
    const std::vector<std::string> fields = bar_fields(line.text);
    if (fields.size() != 3) return faults_.add(line.number, std::string{row_shape} + ".");
    if (const auto fault = words_fault(fields[0], "the row's number")) return faults_.add(line.number, *fault);
    if (const auto fault = words_fault(fields[2], "the row's title")) return faults_.add(line.number, *fault);
    ChecklistRow row{fields[0], fields[2], section_, fields[1] != "N/A", {}};
    if (const auto first = numbers_.emplace(row.number, line.number); !first.second) {
      return faults_.add(line.number, "number " + row.number + " stands in line " +
                                          std::to_string(first.first->second) + " too; each is there once.");
    }
    if (row.applies) {
      const auto tenths = parse_tenths(fields[1]);
      if (!tenths) return faults_.add(line.number, tenths.error().message());
      row.tenths = *tenths;
    }
    list_.rows.push_back(std::move(row));
  }

  ChecklistText list_;
  std::string section_;
  std::set<std::string> keys_;
  std::map<std::string, int> numbers_;
  AssetFaults faults_;
};

}  // namespace

Result<ChecklistText> parse_checklist(std::string_view text) {
  const auto lines = read_asset_lines(text, heading);
  if (!lines) return lines.error();
  return ChecklistReader{}.read(*lines);
}

std::string to_text(const ChecklistText& list) {
  std::string text{heading};
  text += "\nname: " + list.name + "\ntitle: " + list.title + "\nsource: " + list.source +
          "\nofficial: " + (list.official ? "yes" : "no") + "\n";
  std::string section;
  for (const ChecklistRow& row : list.rows) {
    if (row.section != section) text += "\nsection: " + row.section + "\n";
    section = row.section;
    text += row.number + " | " + (row.applies ? to_text(row.tenths) : "N/A") + " | " + row.title + "\n";
  }
  return text;
}

Result<Tenths> parse_tenths(std::string_view text) {
  std::string plain{text};
  std::replace(plain.begin(), plain.end(), ',', ' ');
  std::vector<std::string> words = split(plain, ' ');
  std::erase_if(words, [](const std::string& word) { return trimmed(word).empty(); });
  Tenths tenths{};
  if (words.size() != tenths.size()) {
    return Error{Code::invalid,
                 "a point is split over four columns (maker, paid help, builder by assembly, builder by "
                 "fabrication), for example 5,3,0,2."};
  }
  int sum = 0;
  for (std::size_t i = 0; i < tenths.size(); ++i) {
    const auto tenth = parse_tenth(std::string{trimmed(words[i])});
    if (!tenth) return tenth.error();
    tenths[i] = *tenth;
    sum += *tenth;
  }
  if (sum != tenths_of_a_point) {
    return Error{Code::invalid, to_text(tenths) + " makes " + std::to_string(sum) +
                                    " tenths; a row is one point, ten tenths, or N/A."};
  }
  return tenths;
}

std::string to_text(const Tenths& tenths) {
  std::string text;
  for (const int tenth : tenths) text += (text.empty() ? "" : " ") + std::to_string(tenth);
  return text;
}

ChecklistSum sum_of(std::span<const ChecklistRow> rows) {
  ChecklistSum sum;
  for (const ChecklistRow& row : rows) {
    if (!row.applies) {
      ++sum.left_out;
      continue;
    }
    ++sum.rows;
    for (std::size_t i = 0; i < row.tenths.size(); ++i) sum.columns[i] += row.tenths[i];
  }
  return sum;
}

}  // namespace jigtime::handbook
