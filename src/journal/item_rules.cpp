// What waits, what was looked at, and the lines of a checklist.
#include <numeric>
#include <set>

#include "base/text.h"
#include "journal/rule_text.h"
#include "journal/rules.h"

namespace jigtime::journal {
namespace {

Done check_date(std::chrono::year_month_day date, const std::string& what) {
  if (date.ok() && date.year() >= std::chrono::year{0} && date.year() <= std::chrono::year{9999}) return {};
  return invalid(what + " is no date of the calendar. Write it as YYYY-MM-DD.");
}

Done check_moment(std::optional<SessionId> session, std::optional<SessionTime> at, const std::string& what) {
  if (!at) return {};
  if (!session) return invalid(what + " has a time but no session. Name the session, or leave the time out.");
  if (*at < SessionTime{} || !within_reach(at->time_since_epoch())) {
    return invalid(what + " (" + to_clock_text(*at) + ") lies outside its session. Put it at 0:00:00.000 or later.");
  }
  return {};
}

bool before(std::chrono::year_month_day a, std::chrono::year_month_day b) {
  return std::chrono::sys_days{a} < std::chrono::sys_days{b};
}

Done check_closing(const OpenItem& item, const ItemClosing& closing) {
  if (Done date = check_date(closing.on, "The day the open item was closed"); !date) return date;
  if (before(closing.on, item.opened_on)) {
    return invalid("The open item would be closed on " + jigtime::to_text(closing.on) + ", before it was opened on " +
                   jigtime::to_text(item.opened_on) + ". Check the date.");
  }
  if (closing.span.has_value() != closing.session.has_value()) {
    return invalid("A span that closes an open item comes with its session. Name both or neither.");
  }
  return check_note(closing.words, "What closed the open item");
}

Done check_tenths(const ChecklistLine& line, const std::string& name) {
  const int sum = std::accumulate(line.tenths.begin(), line.tenths.end(), 0);
  for (const int tenths : line.tenths) {
    if (tenths < 0 || tenths > 10) {
      return invalid(name + " gives " + std::to_string(tenths) + " tenths in one column. Give 0 to 10.");
    }
  }
  if (line.applicable && sum != 10) {
    return invalid(name + " is split into " + std::to_string(sum) +
                   " tenths. The four columns must make exactly 10, or the line does not apply.");
  }
  if (!line.applicable && sum != 0) {
    return invalid(name + " does not apply and yet gives " + std::to_string(sum) + " tenths. Give it none.");
  }
  return {};
}

Done check(const ChecklistLine& line) {
  if (Done number = check_name(line.number, "The number of a checklist's line"); !number) return number;
  const std::string name = "Line " + line.number + " of the checklist";
  if (trimmed(line.title).empty()) return invalid(name + " has no title. Give it one.");
  if (Done title = check_note(line.title, "The title of a checklist's line"); !title) return title;
  if (Done section = check_short_text(line.section, "The section of a checklist's line"); !section) return section;
  return check_tenths(line, name);
}

}  // namespace

Done check(const Checklist& list) {
  if (Done name = check_name(list.name, "The checklist's name"); !name) return name;
  if (Done title = check_short_text(list.title, "The checklist's title"); !title) return title;
  if (Done source = check_note(list.source, "The checklist's source"); !source) return source;
  std::set<std::string> numbers;
  for (const ChecklistLine& line : list.lines) {
    if (Done checked = check(line); !checked) return checked;
    if (!numbers.insert(line.number).second) {
      return invalid("The checklist has the line " + in_quotes(line.number) + " more than once. Number each once.");
    }
  }
  return {};
}

Done check(const OpenItem& item) {
  if (trimmed(item.words).empty()) return invalid("The open item has no words. Say what it waits for.");
  if (Done words = check_note(item.words, "The open item"); !words) return words;
  if (Done date = check_date(item.opened_on, "The day the open item was opened"); !date) return date;
  if (Done moment = check_moment(item.session, item.at, "The open item"); !moment) return moment;
  if (item.mark && !item.session) return invalid("The open item has a mark but no session. Name the mark's session.");
  return item.closing ? check_closing(item, *item.closing) : Done{};
}

Done check(const Inspection& inspection) {
  if (Done date = check_date(inspection.date, "The inspection's day"); !date) return date;
  if (Done person = check_name(inspection.person, "The inspecting person's name"); !person) return person;
  if (Done licence = check_short_text(inspection.licence, "The number or licence"); !licence) return licence;
  if (trimmed(inspection.looked_at).empty()) return invalid("The inspection does not say what was looked at. Say it.");
  if (Done text = check_note(inspection.looked_at, "What was looked at"); !text) return text;
  if (Done text = check_note(inspection.findings, "The findings"); !text) return text;
  if (Done stage = check_short_text(inspection.stage, "The stage of the inspection"); !stage) return stage;
  if (Done moment = check_moment(inspection.session, inspection.at, "The inspection"); !moment) return moment;
  if (!inspection.cleared_on) return {};
  if (Done date = check_date(*inspection.cleared_on, "The day the findings were cleared"); !date) return date;
  if (before(*inspection.cleared_on, inspection.date)) {
    return invalid("The findings would be cleared on " + jigtime::to_text(*inspection.cleared_on) +
                   ", before the inspection of " + jigtime::to_text(inspection.date) + ". Check the date.");
  }
  return {};
}

}  // namespace jigtime::journal
