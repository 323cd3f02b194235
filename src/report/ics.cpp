// The session for a calendar: RFC 5545.
#include <algorithm>

#include "base/text.h"
#include "report/clean.h"
#include "report/formats.h"
#include "report/rounding.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

constexpr std::size_t most_octets = 75;  // RFC 5545, section 3.1

/// RFC 5545, section 3.3.11.
std::string escaped(std::string_view words) {
  std::string text;
  for (const char c : clean(words)) {
    switch (c) {
      case '\\': text += "\\\\"; break;
      case ';': text += "\\;"; break;
      case ',': text += "\\,"; break;
      case '\n': text += "\\n"; break;
      case '\t': text += ' '; break;
      default: text += c;
    }
  }
  return text;
}

bool goes_on(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// A content line, folded so that no line has more than 75 octets and no character is cut.
std::string folded(std::string_view line) {
  std::string text;
  std::size_t room = most_octets;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 0 && goes_on(line[cut])) --cut;
    text.append(line.substr(0, cut)).append("\r\n ");
    line.remove_prefix(cut);
    room = most_octets - 1;
  }
  return text.append(line).append("\r\n");
}

std::string digits_of(std::string_view text) {
  std::string digits;
  std::copy_if(text.begin(), text.end(), std::back_inserter(digits), [](char c) { return c >= '0' && c <= '9'; });
  return digits;
}

std::string date_value(std::chrono::year_month_day date) { return digits_of(to_text(date)); }

/// Form 2 of section 3.3.5: UTC.
std::string utc_value(WallTime time) {
  const std::string digits = digits_of(to_text(std::chrono::time_point_cast<std::chrono::seconds>(time)));
  return digits.substr(0, 8) + "T" + digits.substr(8) + "Z";
}

struct When {
  std::string begin;
  std::string end;
};

/// From the first work to the last; the whole day where there is none, or no clock has told when it was.
When when_of(const Timeline& timeline) {
  const journal::Session& session = timeline.record.session;
  std::optional<SessionRange> busy;
  for (const journal::Span& span : timeline.record.spans) {
    if (span.kind != journal::SpanKind::work) continue;
    const SessionTime begin = busy ? std::min(busy->begin(), span.begin) : span.begin;
    const SessionTime end = busy ? std::max(busy->end(), span.end) : span.end;
    if (const auto grown = SessionRange::make(begin, end)) busy = grown;
  }
  if (busy && session.zero) {
    return {"DTSTART:" + utc_value(*session.zero + busy->begin().time_since_epoch()),
            "DTEND:" + utc_value(*session.zero + busy->end().time_since_epoch())};
  }
  const std::chrono::year_month_day next{std::chrono::sys_days{session.date} + std::chrono::days{1}};
  return {"DTSTART;VALUE=DATE:" + date_value(session.date), "DTEND;VALUE=DATE:" + date_value(next)};
}

std::string tasks_of(const Timeline& timeline) {
  std::vector<std::string> titles;
  for (const journal::HoursRow& row : timeline.hours.rows) {
    const journal::Task* task = row.task ? timeline.known.task(*row.task) : nullptr;
    const std::string title = task == nullptr ? "Work without a task" : one_line(task->title);
    if (std::find(titles.begin(), titles.end(), title) == titles.end()) titles.push_back(title);
  }
  return titles.empty() ? "No work was tagged." : listed(titles) + ".";
}

std::string description_of(const Timeline& timeline) {
  const journal::Rounding rounding = timeline.build.rounding;
  std::string text = tasks_of(timeline) + "\nPerson-hours " +
                     hours_words(shown_length(timeline.hours.person_time, rounding), rounding) + ", elapsed " +
                     hours_words(shown_length(timeline.hours.elapsed, rounding), rounding) + ".";
  if (!timeline.record.session.note.empty()) text += "\n" + timeline.record.session.note;
  return text;
}

/// The same for the same build and day, so that a calendar that takes the file twice holds the session once.
std::string uid_of(const Timeline& timeline) {
  return to_text(timeline.record.session.date) + "-" + safe_file_name(timeline.build.name, 60) + "@jigtime";
}

}  // namespace

std::string to_ics(const Timeline& timeline) {
  const journal::Session& session = timeline.record.session;
  const When when = when_of(timeline);
  const std::string place = session.place.empty() ? timeline.build.place : session.place;
  std::vector<std::string> lines{"BEGIN:VCALENDAR",
                                 "VERSION:2.0",
                                 "PRODID:-//Jigtime//Journal of an aircraft build//EN",
                                 "BEGIN:VEVENT",
                                 "UID:" + escaped(uid_of(timeline)),
                                 "DTSTAMP:" + utc_value(timeline.made),
                                 when.begin,
                                 when.end,
                                 "SUMMARY:" + escaped(one_line(timeline.build.name) + ": session"),
                                 "DESCRIPTION:" + escaped(description_of(timeline))};
  if (!place.empty()) lines.push_back("LOCATION:" + escaped(one_line(place)));
  lines.insert(lines.end(), {"TRANSP:TRANSPARENT", "END:VEVENT", "END:VCALENDAR"});
  std::string text;
  for (const std::string& line : lines) text += folded(line);
  return text;
}

}  // namespace jigtime::report
