#include <algorithm>
#include <map>
#include <optional>

#include "actions/csv.h"
#include "actions/fastener_words.h"
#include "actions/tagging.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

const std::vector<std::string> known_columns{"from",     "to",     "kind",      "break", "task",
                                             "assembly", "people", "fasteners", "note"};

constexpr std::string_view several_parted_by = ";|\n";

std::string lowered(std::string_view text) {
  std::string result{trimmed(text)};
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return result;
}

/// Other words that people write over a column.
std::string column_of(std::string_view heading) {
  static const std::map<std::string, std::string, std::less<>> same{{"person", "people"},      {"persons", "people"},
                                                                    {"fastener", "fasteners"}, {"notes", "note"},
                                                                    {"begin", "from"},         {"end", "to"}};
  const std::string name = lowered(heading);
  const auto found = same.find(name);
  return found == same.end() ? name : found->second;
}

/// A word in quotes, with the quotes in it doubled, ends `at` behind its closing quote; nothing where no separator
/// follows.
std::optional<std::string> quoted_word(std::string_view cell, std::size_t& at) {
  if (at >= cell.size() || cell[at] != '"') return std::nullopt;
  std::string word;
  for (std::size_t i = at + 1; i < cell.size(); ++i) {
    if (cell[i] != '"') {
      word += cell[i];
    } else if (i + 1 < cell.size() && cell[i + 1] == '"') {
      word += cell[i++];
    } else {
      const std::size_t behind = cell.find_first_not_of(' ', i + 1);
      if (behind != std::string_view::npos && several_parted_by.find(cell[behind]) == std::string_view::npos) break;
      at = std::min(behind, cell.size());
      return word;
    }
  }
  return std::nullopt;
}

/// Several in one cell. One that holds a separator itself is set in quotes: "Bo; the elder"; Mara.
std::vector<std::string> several(std::string_view cell) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at < cell.size(); ++at) {
    at = std::min(cell.find_first_not_of(' ', at), cell.size());
    if (const auto word = quoted_word(cell, at)) {
      words.push_back(*word);
      continue;
    }
    const std::size_t end = std::min(cell.find_first_of(several_parted_by, at), cell.size());
    if (const std::string_view word = trimmed(cell.substr(at, end - at)); !word.empty()) words.emplace_back(word);
    at = end;
  }
  return words;
}

/// Without the apostrophe that keeps a spreadsheet from running the cell (see report::csv_field).
std::string_view unguarded(std::string_view cell) {
  constexpr std::string_view run_by_spreadsheets = "=+-@\t\r\n";
  const std::size_t first = cell.find_first_not_of('\'');
  if (first == 0 || first == std::string_view::npos) return cell;
  return run_by_spreadsheets.find(cell[first]) == std::string_view::npos ? cell : cell.substr(1);
}

class TagReader {
 public:
  Done take_header(const CsvRow& header) {
    const std::string line = "line " + std::to_string(header.line) + ", column ";
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      if (trimmed(header.fields[i]).empty()) continue;
      const std::string name = column_of(header.fields[i]);
      if (std::find(known_columns.begin(), known_columns.end(), name) == known_columns.end()) {
        faults_.push_back(line + std::to_string(i + 1) + ": there is no column \"" +
                          std::string{trimmed(header.fields[i])} + "\".");
      } else if (!columns_.emplace(name, i).second) {
        faults_.push_back(line + std::to_string(i + 1) + ": the column \"" + name + "\" stands there twice.");
      }
    }
    if (!columns_.contains("from") || !columns_.contains("to")) {
      faults_.push_back("line " + std::to_string(header.line) +
                        ": the first line must name the columns, among them from and to.");
    }
    if (faults_.empty()) return {};
    faults_.push_back("The columns are " + listed(known_columns) + ".");
    return all_of(faults_);
  }

  void take_row(const CsvRow& row, std::vector<SpanWords>& spans) {
    const std::size_t before = faults_.size();
    refuse_unnamed(row);
    SpanWords words;
    words.from = time_in(row, "from");
    words.to = time_in(row, "to");
    words.pause = is_pause(row);
    words.task = cell(row, "task");
    words.assembly = cell(row, "assembly");
    words.people = several(cell(row, "people"));
    words.fasteners = several(cell(row, "fasteners"));
    words.note = cell(row, "note");
    for (const std::string& fastener : words.fasteners) {
      if (const auto line = parse_fastener(fastener); !line) complain(row, "fasteners", line.error().message());
    }
    if (words.task.empty() && !words.pause) complain(row, "task", "work needs a task; a break says so under kind.");
    if (faults_.size() == before && words.to <= words.from) {
      complain(row, "to", "the span ends before it begins, or at once.");
    }
    if (faults_.size() != before) return;
    words.line = row.line;
    spans.push_back(std::move(words));
  }

  const std::vector<std::string>& faults() const { return faults_; }

 private:
  std::string cell(const CsvRow& row, const std::string& column) const {
    const auto found = columns_.find(column);
    if (found == columns_.end() || found->second >= row.fields.size()) return {};
    return std::string{trimmed(unguarded(trimmed(row.fields[found->second])))};
  }

  /// Spreadsheets pad rows with empty cells; words where no heading stands are somebody's that would be lost.
  void refuse_unnamed(const CsvRow& row) {
    for (std::size_t i = 0; i < row.fields.size(); ++i) {
      const bool named =
          std::any_of(columns_.begin(), columns_.end(), [&](const auto& column) { return column.second == i; });
      if (named || trimmed(row.fields[i]).empty()) continue;
      complain(row, std::to_string(i + 1), "there are words in this cell and no heading above it.");
    }
  }

  SessionTime time_in(const CsvRow& row, const std::string& column) {
    const std::string text = cell(row, column);
    std::string pointed = text;
    std::replace(pointed.begin(), pointed.end(), ',', '.');
    const auto time = parse_clock_text(pointed);
    if (!time) complain(row, column, "\"" + text + "\" is no time of the form H:MM:SS or H:MM:SS.mmm.");
    return SessionTime{time.value_or(Length{0})};
  }

  bool is_pause(const CsvRow& row) {
    const std::string kind = lowered(cell(row, "kind"));
    const std::string yes = lowered(cell(row, "break"));
    if (!kind.empty() && kind != "work" && kind != "break")
      complain(row, "kind", "\"" + kind + "\" is neither work nor break.");
    const bool marked = yes == "yes" || yes == "y" || yes == "true" || yes == "1" || yes == "x";
    if (!marked && !yes.empty() && yes != "no" && yes != "n" && yes != "false" && yes != "0") {
      complain(row, "break", "\"" + yes + "\" is neither yes nor no.");
    }
    if (kind == "work" && marked) complain(row, "break", "it says yes, and the column kind says work.");
    return kind == "break" || marked;
  }

  void complain(const CsvRow& row, const std::string& column, const std::string& what) {
    faults_.push_back("line " + std::to_string(row.line) + ", column " + column + ": " + what);
  }

  std::map<std::string, std::size_t> columns_;
  std::vector<std::string> faults_;
};

}  // namespace

Result<std::vector<SpanWords>> read_tags(std::string_view text) {
  const auto rows = read_csv(text);
  if (!rows) return rows.error();
  if (rows->empty())
    return Error{Code::invalid, "The table is empty. Its first line names the columns, among them from and to."};
  TagReader reader;
  if (const Done header = reader.take_header(rows->front()); !header) return header.error();
  std::vector<SpanWords> spans;
  for (std::size_t i = 1; i < rows->size(); ++i) reader.take_row((*rows)[i], spans);
  if (reader.faults().empty()) return spans;

  return all_of(reader.faults());
}

}  // namespace jigtime::actions
