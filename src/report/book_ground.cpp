#include <algorithm>

#include "base/text.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/rounding.h"
#include "report/words.h"

namespace jigtime::report {

BookGround::BookGround(const Book& of) : book{of} {
  for (const BookSession& session : book.sessions) {
    if (is_printed(session.record.session.date)) printed.push_back(&session);
  }
}

bool BookGround::is_printed(std::chrono::year_month_day date) const {
  return (!book.from || date >= *book.from) && (!book.until || date <= *book.until);
}

std::string BookGround::task_title(std::optional<journal::TaskId> id) const {
  const journal::Task* task = id ? book.known.task(*id) : nullptr;
  return task == nullptr ? "Work without a task" : one_line(clean(task->title));
}

std::string BookGround::assembly_path(std::optional<journal::TaskId> id) const {
  const journal::Task* task = id ? book.known.task(book.known.meant(*id)) : nullptr;
  return task == nullptr ? "" : one_line(clean(book.known.assembly_path(task->assembly)));
}

std::string BookGround::person_name(journal::PersonId id) const {
  const journal::Person* person = book.known.person(id);
  if (person == nullptr) return "somebody not in the register";
  return one_line(clean(person->name)) + " (" + std::string{to_text(person->role)} + ")";
}

std::string BookGround::session_words(const BookSession& session) const {
  const journal::SessionRecord& record = session.record;
  std::string words = day_words(record.session.date);
  if (record.entry) words += ", entry " + std::to_string(record.entry->number);
  return words;
}

std::string BookGround::anchor_of(const BookSession& session) const {
  return "session-" + to_text(session.record.session.date);
}

std::string BookGround::hours_text(Length length) const {
  return hours_words(shown_length(length, rounding()), rounding());
}

std::string day_words(std::chrono::year_month_day date) {
  const std::string words = date_words(date);  // "Saturday, 14 March 2026"
  const std::size_t comma = words.find(", ");
  return comma == std::string::npos ? words : words.substr(comma + 2);
}

std::string time_of_day(const BookSession& session, SessionTime at) {
  const journal::Session& about = session.record.session;
  if (!about.zero) return to_short_clock_text(at.time_since_epoch());
  const WallTime wall = *about.zero + at.time_since_epoch();
  const bool changed = session.change && wall >= session.change->at;
  const auto local = wall + (changed ? session.change->local : session.local);
  const auto since = local - std::chrono::floor<std::chrono::days>(local);
  const auto minutes = std::chrono::floor<std::chrono::minutes>(since).count();
  const auto two = [](std::int64_t number) { return (number < 10 ? "0" : "") + std::to_string(number); };
  return two(minutes / 60) + ":" + two(minutes % 60);
}

void append(Blocks& to, Blocks from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

}  // namespace jigtime::report
