// The parts a book is put together from.
// Must never know: how a document is printed.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "report/book.h"

namespace jigtime::report {

using Blocks = std::vector<Block>;

/// What every part looks up.
class BookGround {
 public:
  explicit BookGround(const Book& book);

  const Book& book;
  std::vector<const BookSession*> printed;  ///< within the asked days

  journal::Rounding rounding() const { return book.build.rounding; }
  bool is_printed(std::chrono::year_month_day date) const;
  std::string task_title(std::optional<journal::TaskId> task) const;
  /// Of what the task counts as; empty for none.
  std::string assembly_path(std::optional<journal::TaskId> task) const;
  std::string person_name(journal::PersonId person) const;  ///< with the role in brackets
  /// "14 March 2026", "entry 3": how other places of the book speak of a session.
  std::string session_words(const BookSession& session) const;
  std::string anchor_of(const BookSession& session) const;
  /// Length of person-hours, as the journal rounds it.
  std::string hours_text(Length length) const;
};

/// Which of a session's spans, marks and pictures a chapter shows.
struct Part {
  std::function<bool(const journal::Span&)> spans;
  std::function<bool(SessionTime)> moments;  ///< marks, stills, photos
  bool timeless;                             ///< photos of which no clock tells when they were taken
};

/// The work of one session, or of one assembly in it: spans, hours, marks with stills, photos. Nothing when the part
/// holds none of them.
Blocks work_blocks(const BookGround& ground, const BookSession& session, const Part& part);

/// What belongs to the session as a whole: place and time, footage, note, what waits, inspections, seal, amendments.
/// `running` is the build's person-hours up to and with this session.
Blocks session_facts(const BookGround& ground, const BookSession& session, Length running);

Blocks entries_by_date(const BookGround& ground);
Blocks entries_by_assembly(const BookGround& ground);

Blocks people_part(const BookGround& ground);
Blocks hours_part(const BookGround& ground);
Blocks fasteners_part(const BookGround& ground);
Blocks items_part(const BookGround& ground);
Blocks inspections_part(const BookGround& ground);
Blocks checklists_part(const BookGround& ground);
Blocks seals_part(const BookGround& ground);

/// "14 March 2026".
std::string day_words(std::chrono::year_month_day date);
/// "09:12", in the build's local time; seconds are left out.
std::string time_of_day(const BookSession& session, SessionTime at);

void append(Blocks& to, Blocks from);

}  // namespace jigtime::report
