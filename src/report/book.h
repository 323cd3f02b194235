// The log book of the whole build, or of a stretch of it, as a document.
// Must never know: where the record is kept, how a document is printed.
// Begin reading at: Book, then book_document.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "journal/hours.h"
#include "journal/values.h"
#include "report/document.h"

namespace jigtime::report {

enum class BookOrder { by_date, by_assembly };

/// Clocks set forward or back in the night.
struct ClockChange {
  WallTime at;
  Length local;  ///< civil time minus UTC from then on
};

struct BookSession {
  journal::SessionRecord record;
  journal::Hours hours;
  Length local{0};                      ///< civil time of the build's place minus UTC when the session began
  std::optional<ClockChange> change{};  ///< the first after it began
};

/// What is said about a checklist beside its rows: the share, and that tasks carry the finding.
struct BookChecklist {
  journal::ChecklistId id;
  std::vector<std::string> sentences;
};

struct Book {
  journal::Build build;
  journal::Register known;
  BookOrder order = BookOrder::by_date;
  std::optional<std::chrono::year_month_day> from;   ///< inclusive; nothing: from the first session
  std::optional<std::chrono::year_month_day> until;  ///< inclusive; nothing: to the last
  /// By date, up to the last day. Those before the first day are brought forward in totals and printed no more.
  std::vector<BookSession> sessions;
  std::vector<journal::OpenItem> items;          ///< all
  std::vector<journal::Inspection> inspections;  ///< all
  std::vector<journal::Entry> chain;             ///< the whole chain
  std::vector<journal::Signature> signatures;
  std::vector<BookChecklist> checklists;
  std::string regime;               ///< title of the rules the build is shown under; may be empty
  std::vector<std::string> faults;  ///< what did not fit when seals and signatures were checked for this book
  WallTime made;
  Length made_local{0};
  /// A JPEG file's bytes; empty where there are none.
  std::function<std::vector<std::uint8_t>(journal::StillId)> still;
  /// The same of a photo, in a size for a page.
  std::function<std::vector<std::uint8_t>(journal::PhotoId)> photo;
  /// Photos that are named and not shown, with the reason.
  std::map<journal::PhotoId, std::string> photos_not_shown;
};

/// Every span, mark and still of the printed sessions stands in it once, in either order. `book` must outlive it.
Document book_document(const Book& book);

}  // namespace jigtime::report
