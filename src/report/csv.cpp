#include <algorithm>

#include "base/text.h"
#include "report/report.h"
#include "report/rounding.h"

namespace jigtime::report {
namespace {

std::string record_of(const std::vector<std::string>& fields) {
  std::string record;
  for (std::size_t i = 0; i < fields.size(); ++i) record += (i == 0 ? "" : ",") + csv_field(fields[i]);
  return record + "\r\n";
}

std::string date_of(const std::vector<journal::Session>& sessions, journal::SessionId id) {
  const auto at = std::find_if(sessions.begin(), sessions.end(), [&](const auto& session) { return session.id == id; });
  return at == sessions.end() ? std::string{} : to_text(at->date);
}

/// Exact for tenths and quarters; otherwise to a millionth of an hour, 3.6 ms.
std::string decimal_hours(Length length, journal::Rounding rounding) {
  const int decimals = rounding == journal::Rounding::tenth_hour     ? 1
                       : rounding == journal::Rounding::quarter_hour ? 2
                                                                     : 6;
  return to_decimal_text(to_seconds(length) / 3600, decimals);
}

}  // namespace

std::string csv_field(std::string_view text) {
  constexpr std::string_view run_by_spreadsheets = "=+-@\t\r\n";
  std::string field;
  if (!text.empty() && run_by_spreadsheets.find(text.front()) != std::string_view::npos) field = "'";
  field += text;
  if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
  std::string quoted = "\"";
  for (const char c : field) quoted += c == '"' ? std::string{"\"\""} : std::string{c};
  return quoted + "\"";
}

std::string hours_csv(const std::vector<journal::Session>& sessions, const journal::Register& known,
                      const journal::Hours& hours, journal::Rounding rounding) {
  std::vector<Length> worked;
  for (const journal::HoursRow& row : hours.rows) worked.push_back(row.worked);
  const std::vector<Length> seconds = shown_lengths(worked, journal::Rounding::none);
  const std::vector<Length> rounded = shown_lengths(worked, rounding);
  std::string text = record_of({"date", "task", "assembly", "person", "role", "seconds", "hours"});
  for (std::size_t i = 0; i < hours.rows.size(); ++i) {
    const journal::HoursRow& row = hours.rows[i];
    const journal::Task* task = row.task ? known.task(*row.task) : nullptr;
    const journal::Person* person = known.person(row.person);
    text += record_of({date_of(sessions, row.session), task == nullptr ? "" : to_utf8(task->title),
                       task == nullptr ? "" : to_utf8(known.assembly_path(task->assembly)),
                       person == nullptr ? "" : to_utf8(person->name),
                       person == nullptr ? "" : std::string{to_text(person->role)},
                       std::to_string(seconds[i] / std::chrono::seconds{1}), decimal_hours(rounded[i], rounding)});
  }
  return text;
}

}  // namespace jigtime::report
