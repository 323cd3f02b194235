#include "actions/csv.h"

#include <algorithm>

#include "base/text.h"

namespace jigtime::actions {
namespace {

char separator_of(std::string_view first_line) {
  char best = ',';
  std::ptrdiff_t most = std::count(first_line.begin(), first_line.end(), ',');
  for (const char candidate : {';', '\t'}) {
    const auto count = std::count(first_line.begin(), first_line.end(), candidate);
    if (count > most) {
      most = count;
      best = candidate;
    }
  }
  return best;
}

/// Walks the text once; every method takes what it names and moves on.
class Reader {
 public:
  Reader(std::string_view text, char separator) : text_{text}, separator_{separator} {}

  Result<std::vector<CsvRow>> rows() {
    std::vector<CsvRow> rows;
    while (at_ < text_.size()) {
      auto row = take_row();
      if (!row) return row.error();
      if (row->fields.size() > 1 || !row->fields.front().empty()) rows.push_back(std::move(*row));
    }
    return rows;
  }

 private:
  Result<CsvRow> take_row() {
    CsvRow row{line_, {}};
    while (true) {
      auto field = at_ < text_.size() && text_[at_] == '"' ? take_quoted() : Result<std::string>{take_plain()};
      if (!field) return field.error();
      row.fields.push_back(std::move(*field));
      if (at_ < text_.size() && text_[at_] == separator_) {
        ++at_;
        continue;
      }
      take_line_end();
      return row;
    }
  }

  std::string take_plain() {
    const std::size_t from = at_;
    while (at_ < text_.size() && text_[at_] != separator_ && text_[at_] != '\n' && text_[at_] != '\r') ++at_;
    return std::string{text_.substr(from, at_ - from)};
  }

  Result<std::string> take_quoted() {
    const int opened = line_;
    std::string field;
    for (++at_; at_ < text_.size(); ++at_) {
      if (text_[at_] == '"') {
        if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
          field += '"';
          ++at_;
          continue;
        }
        ++at_;
        if (at_ < text_.size() && text_[at_] != separator_ && text_[at_] != '\n' && text_[at_] != '\r') {
          return Error{Code::invalid,
                       "line " + std::to_string(line_) +
                           ": there is text behind a closing quote. A quote inside a cell is written twice."};
        }
        return field;
      }
      if (text_[at_] == '\n') ++line_;
      field += text_[at_];
    }
    return Error{Code::invalid, "line " + std::to_string(opened) + ": a quote is opened here and never closed."};
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
};

}  // namespace

Result<std::vector<CsvRow>> read_csv(std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (!is_utf8(text)) {
    return Error{Code::invalid, "The table is not in UTF-8. Save it again as CSV with the encoding UTF-8."};
  }
  return Reader{text, separator_of(text.substr(0, text.find_first_of("\r\n")))}.rows();
}

}  // namespace jigtime::actions
