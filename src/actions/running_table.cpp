#include "actions/running_table.h"

#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>

#include "actions/csv.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "report/csv_rows.h"
#include "report/report.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

enum Column { entry_column, digest_column, seconds_column = 7, hours_column = 8 };

std::string in_quotes(const fs::path& file) { return "\"" + to_utf8(file.string()) + "\""; }

Error not_ours(const fs::path& file) {
  return {Code::conflict, in_quotes(file) + " is no table of sealed hours: its first line is not \"" +
                              std::string{report::sealed_hours_header} +
                              "\". Name a file that is not there yet; it will be made."};
}

Error torn(const fs::path& file, int line, const std::string& what) {
  return {Code::conflict, in_quotes(file) + ", line " + std::to_string(line) + ": " + what +
                              "; the table was cut off or changed. Put a whole one in its place, or name a file that "
                              "is not there yet; it will be made."};
}

std::optional<std::int64_t> whole_number(std::string_view text) {
  std::int64_t number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size() || number < 0) return std::nullopt;
  return number;
}

/// With a point or a comma.
std::optional<double> decimal_number(std::string text) {
  std::replace(text.begin(), text.end(), ',', '.');
  double number = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), number, std::chars_format::fixed);
  if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) return std::nullopt;
  return number;
}

bool is_digest(std::string_view text) {
  return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

/// What is wrong with a row; empty where nothing is.
std::string fault_of(const std::vector<std::string>& fields, std::size_t columns) {
  // Rows are rounded so that they add up: one may be off by a whole step, a quarter of an hour at most.
  constexpr double farthest = 0.5;
  if (fields.size() != columns) return "the row is not whole";
  if (whole_number(fields[entry_column]).value_or(0) < 1)
    return "\"" + fields[entry_column] + "\" is no entry's number";
  if (!is_digest(fields[digest_column])) return "\"" + fields[digest_column] + "\" is no digest";
  const auto seconds = whole_number(fields[seconds_column]);
  if (!seconds) return "\"" + fields[seconds_column] + "\" is no number of seconds";
  const auto hours = decimal_number(fields[hours_column]);
  if (!hours || !(std::abs(*hours - static_cast<double>(*seconds) / 3600) <= farthest)) {  // "nan" is read too
    return "\"" + fields[hours_column] + "\" is not the hours that " + fields[seconds_column] + " seconds are";
  }
  return {};
}

/// A file that is there and may be changed, or one that may come to be.
Done check_writable(const fs::path& file) {
  std::error_code failure;
  const fs::file_status status = fs::status(file, failure);
  if (!fs::exists(status)) {
    if (!fs::is_symlink(fs::symlink_status(file, failure))) return {};
    return Error{Code::conflict, in_quotes(file) + " is a link to \"" +
                                     to_utf8(fs::read_symlink(file, failure).string()) +
                                     "\", which is not there. Connect the disk it lies on, or name another file."};
  }
  // Whoever took the permission to write away meant it, whatever this user may do all the same.
  const bool locked = (status.permissions() & fs::perms::owner_write) == fs::perms::none;
  if (fs::is_regular_file(status) && (locked || ::access(file.c_str(), W_OK) != 0)) {
    return Error{Code::denied, in_quotes(file) + " is write-protected. Allow writing to it, or name another file."};
  }
  return {};
}

}  // namespace

Result<RunningTable> RunningTable::read(const fs::path& file) {
  if (Done writable = check_writable(file); !writable) return writable.error();
  std::error_code ignored;
  if (!fs::exists(file, ignored)) return RunningTable{};
  auto text = read_text(file);
  if (!text) return text.error();
  const auto rows = read_csv(*text);
  if (!rows) return rows.error().during(to_utf8(file.string()));
  if (rows->empty()) return text->empty() ? Result<RunningTable>{RunningTable{}} : not_ours(file);
  const std::vector<std::string> header = split(report::sealed_hours_header, ',');
  if (rows->front().fields != header) return not_ours(file);

  RunningTable table;
  table.separator_ = csv_separator(*text);
  bool points = false;
  bool commas = false;
  for (std::size_t i = 1; i < rows->size(); ++i) {
    const std::vector<std::string>& fields = (*rows)[i].fields;
    if (const std::string fault = fault_of(fields, header.size()); !fault.empty()) {
      return torn(file, (*rows)[i].line, fault);
    }
    const auto entry = static_cast<int>(std::min<std::int64_t>(*whole_number(fields[entry_column]), 1'000'000'000));
    Sum& sum = table.entries_.try_emplace(fields[digest_column], Sum{entry, (*rows)[i].line, 0, 0}).first->second;
    if (sum.entry != entry) return torn(file, (*rows)[i].line, "the entry's number and its digest do not go together");
    ++sum.rows;
    sum.seconds += *whole_number(fields[seconds_column]);
    points = points || fields[hours_column].find('.') != std::string::npos;
    commas = commas || fields[hours_column].find(',') != std::string::npos;
  }
  // Semicolons stand where commas are part of numbers.
  table.decimal_comma_ = commas || (!points && table.separator_ == ';');
  table.bytes_ = *std::move(text);
  return table;
}

std::string RunningTable::with(std::string_view rows) const {
  std::string text = is_new() ? std::string{report::sealed_hours_header} + "\r\n" : bytes_;
  if (text.back() != '\n' && text.back() != '\r') text += "\r\n";
  return text + (separator_ == ',' && !decimal_comma_ ? std::string{rows} : in_its_own_way(rows));
}

std::string RunningTable::in_its_own_way(std::string_view rows) const {
  const std::string to_be_quoted = std::string{"\"\r\n"} + separator_;
  std::string text;
  const auto fresh = read_csv(rows);
  if (!fresh) return text;
  for (const CsvRow& row : *fresh) {
    for (std::size_t i = 0; i < row.fields.size(); ++i) {
      std::string field = row.fields[i];
      if (i == hours_column && decimal_comma_) std::replace(field.begin(), field.end(), '.', ',');
      if (i > 0) text += separator_;
      text += field.find_first_of(to_be_quoted) == std::string::npos ? field : report::csv_quoted(field);
    }
    text += "\r\n";
  }
  return text;
}

}  // namespace jigtime::actions
