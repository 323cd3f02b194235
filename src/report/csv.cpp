#include <algorithm>

#include "base/text.h"
#include "report/clean.h"
#include "report/csv_rows.h"
#include "report/report.h"
#include "report/rounding.h"

namespace jigtime::report {
namespace {

std::string date_of(const std::vector<journal::Session>& sessions, journal::SessionId id) {
  const auto at = std::find_if(sessions.begin(), sessions.end(), [&](const auto& session) { return session.id == id; });
  return at == sessions.end() ? std::string{} : to_text(at->date);
}

/// task, assembly, person, role, seconds, hours.
std::vector<std::vector<std::string>> hours_fields(const journal::Register& known, const journal::Hours& hours,
                                                   journal::Rounding rounding) {
  std::vector<Length> worked;
  for (const journal::HoursRow& row : hours.rows) worked.push_back(row.worked);
  const std::vector<Length> seconds = shown_lengths(worked, journal::Rounding::none);
  const std::vector<Length> rounded = shown_lengths(worked, rounding);
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < hours.rows.size(); ++i) {
    const journal::HoursRow& row = hours.rows[i];
    const journal::Task* task = row.task ? known.task(*row.task) : nullptr;
    const journal::Person* person = known.person(row.person);
    rows.push_back(
        {task == nullptr ? "" : clean(task->title), task == nullptr ? "" : clean(known.assembly_path(task->assembly)),
         person == nullptr ? "" : clean(person->name), person == nullptr ? "" : std::string{to_text(person->role)},
         std::to_string(seconds[i] / std::chrono::seconds{1}), decimal_hours(rounded[i], rounding)});
  }
  return rows;
}

}  // namespace

std::string csv_record(const std::vector<std::string>& fields) {
  std::string record;
  for (std::size_t i = 0; i < fields.size(); ++i) record += (i == 0 ? "" : ",") + csv_field(fields[i]);
  return record + "\r\n";
}

std::string csv_quoted(std::string_view text) {
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string{"\"\""} : std::string{c};
  return quoted + "\"";
}

std::string decimal_hours(Length length, journal::Rounding rounding) {
  const int decimals = rounding == journal::Rounding::tenth_hour     ? 1
                       : rounding == journal::Rounding::quarter_hour ? 2
                                                                     : 6;
  return to_decimal_text(to_seconds(length) / 3600, decimals);
}

std::string csv_field(std::string_view text) {
  constexpr std::string_view run_by_spreadsheets = "=+-@\t\r\n";
  std::string field;
  // Behind apostrophes of the builder's own too, so that taking one away gives the text back.
  const std::size_t first = text.find_first_not_of('\'');
  if (first != std::string_view::npos && run_by_spreadsheets.find(text[first]) != std::string_view::npos) field = "'";
  field += text;
  return field.find_first_of(",\"\r\n") == std::string::npos ? field : csv_quoted(field);
}

std::string hours_csv(const std::vector<journal::Session>& sessions, const journal::Register& known,
                      const journal::Hours& hours, journal::Rounding rounding) {
  std::string text = csv_record({"date", "task", "assembly", "person", "role", "seconds", "hours"});
  const auto rows = hours_fields(known, hours, rounding);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    std::vector<std::string> fields{date_of(sessions, hours.rows[i].session)};
    fields.insert(fields.end(), rows[i].begin(), rows[i].end());
    text += csv_record(fields);
  }
  return text;
}

std::string sealed_hours_rows(const journal::Entry& entry, const journal::Session& session,
                              const journal::Register& known, const journal::Hours& hours, journal::Rounding rounding) {
  std::string text;
  for (const std::vector<std::string>& row : hours_fields(known, hours, rounding)) {
    std::vector<std::string> fields{std::to_string(entry.number), clean(entry.digest), to_text(session.date)};
    fields.insert(fields.end(), row.begin(), row.end());
    text += csv_record(fields);
  }
  return text;
}

}  // namespace jigtime::report
