#include "actions/csv.h"

#include <algorithm>
#include <array>

#include "actions/tagging.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// The one that stands most often in the first line, quoted fields left out.
char separator_of(std::string_view text) {
  constexpr std::string_view candidates = ",;\t";
  std::array<int, 3> counts{};
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\r' || c == '\n') break;
    if (const std::size_t at = candidates.find(c); at != std::string_view::npos) ++counts[at];
  }
  return candidates[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) - counts.begin())];
}

/// A line "sep=;" in front of the table, as spreadsheets understand it; 0 where there is none.
char told_separator(std::string_view text) {
  if (text.size() < 6 || (!text.starts_with("sep=") && !text.starts_with("\"sep="))) return 0;
  const char separator = text[text.front() == '"' ? 5 : 4];
  return separator == ',' || separator == ';' || separator == '\t' ? separator : '\0';
}

int first_line_not_utf8(std::string_view text) {
  int line = 1;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    if (!is_utf8(text.substr(0, end))) return line;
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
    ++line;
  }
  return line;
}

/// Walks the text once; every method takes what it names and moves on.
class Reader {
 public:
  Reader(std::string_view text, char separator) : text_{text}, separator_{separator} {}

  Result<std::vector<CsvRow>> rows(bool told) {
    std::vector<CsvRow> rows;
    while (at_ < text_.size()) {
      CsvRow row = take_row();
      if (told && row.line == 1) continue;
      const bool blank = std::all_of(row.fields.begin(), row.fields.end(),
                                     [](const std::string& field) { return trimmed(field).empty(); });
      if (!blank) rows.push_back(std::move(row));
    }
    if (!faults_.empty()) return all_of(faults_);
    return rows;
  }

 private:
  CsvRow take_row() {
    CsvRow row{line_, {}};
    while (true) {
      row.fields.push_back(at_ < text_.size() && text_[at_] == '"' ? take_quoted() : take_plain());
      if (at_ < text_.size() && text_[at_] == separator_) {
        ++at_;
        continue;
      }
      take_line_end();
      return row;
    }
  }

  bool at_field_end() const {
    return at_ >= text_.size() || text_[at_] == separator_ || text_[at_] == '\n' || text_[at_] == '\r';
  }

  std::string take_plain() {
    const std::size_t from = at_;
    while (!at_field_end()) ++at_;
    return std::string{text_.substr(from, at_ - from)};
  }

  std::string take_quoted() {
    const int opened = line_;
    std::string field;
    for (++at_; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      const bool doubled = c == '"' && at_ + 1 < text_.size() && text_[at_ + 1] == '"';
      if (c == '"' && !doubled) {
        ++at_;
        end_quoted();
        return field;
      }
      if (doubled) ++at_;
      const bool before_line_feed = c == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n';
      if (before_line_feed) continue;
      field += c == '\r' ? '\n' : c;
      if (field.back() == '\n') ++line_;
    }
    faults_.push_back("line " + std::to_string(opened) + ": a quote is opened here and never closed.");
    return field;
  }

  void end_quoted() {
    if (at_field_end()) return;
    faults_.push_back("line " + std::to_string(line_) +
                      ": there is text behind a closing quote. A quote inside a cell is written twice.");
    static_cast<void>(take_plain());
  }

  void take_line_end() {
    if (at_ < text_.size() && text_[at_] == '\r') ++at_;
    if (at_ < text_.size() && text_[at_] == '\n') ++at_;
    ++line_;
  }

  std::string_view text_;
  char separator_;
  std::size_t at_ = 0;
  int line_ = 1;
  std::vector<std::string> faults_;
};

}  // namespace

char csv_separator(std::string_view text) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  const char told = told_separator(text);
  return told != 0 ? told : separator_of(text);
}

Result<std::vector<CsvRow>> read_csv(std::string_view text) {
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  if (!is_utf8(text)) {
    return Error{Code::invalid, "line " + std::to_string(first_line_not_utf8(text)) +
                                    ": the table is not in UTF-8. Save it again as CSV with the encoding UTF-8."};
  }
  return Reader{text, csv_separator(text)}.rows(told_separator(text) != 0);
}

}  // namespace jigtime::actions
