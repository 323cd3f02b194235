// What waits, and inspections.
#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {

using namespace journal;

namespace {

Error none(const std::string& what) {
  return {Code::not_found, "There is no such " + what + " in the journal. It may have been removed."};
}

std::optional<std::string> date_text(const std::optional<std::chrono::year_month_day>& date) {
  return date ? std::optional{jigtime::to_text(*date)} : std::nullopt;
}

/// The same, but for what may still come when the session is sealed.
bool same_opening(OpenItem a, const OpenItem& b) {
  a.closing = b.closing;
  return a == b;
}

bool same_finding(Inspection a, const Inspection& b) {
  a.cleared_on = b.cleared_on;
  return a == b;
}

}  // namespace

Done Editor::check_item(const OpenItem& item) {
  if (Done rules = check(item); !rules) return rules;
  if (item.task) {
    if (Done task = need_task(*item.task); !task) return task;
  }
  if (!item.mark) return {};
  Query mark{database_, "SELECT 1 FROM mark WHERE id = ?1 AND session = ?2"};
  if (mark.with(*item.mark, item.session).next()) return {};
  return Error{Code::invalid, "The mark of the open item is not one of its session. Name one that is."};
}

/// Sealed is what the session of the closing span sealed; the rest stays free.
Done Editor::write_closing(ItemId item, const std::optional<ItemClosing>& closing) {
  Query there{database_, "SELECT session FROM item_closing WHERE item = ?1"};
  if (there.with(item).next() && !there.is_null(0)) {
    if (Done open = need_session(there.id<SessionId>(0)); !open) return open;
  }
  if (!closing) {
    Query{database_, "DELETE FROM item_closing WHERE item = ?1"}.with(item).run();
    return {};
  }
  if (closing->span) {
    Query span{database_, "SELECT 1 FROM span WHERE id = ?1 AND session = ?2"};
    if (!span.with(*closing->span, closing->session).next()) return none("span");
    if (Done open = need_session(*closing->session); !open) return open;
  }
  Query{database_,
        "INSERT INTO item_closing (item, date, span, session, words) VALUES (?1, ?2, ?3, ?4, ?5) "
        "ON CONFLICT (item) DO UPDATE SET date = excluded.date, span = excluded.span, session = excluded.session, "
        "words = excluded.words"}
      .with(item, std::string_view{jigtime::to_text(closing->on)}, closing->span, closing->session,
            std::string_view{closing->words})
      .run();
  return {};
}

Result<ItemId> Editor::add(const OpenItem& item) {
  return attempt([&]() -> Result<ItemId> {
    if (Done fits = check_item(item); !fits) return fits.error();
    if (item.session) {
      if (Done open = need_session(*item.session); !open) return open.error();
    }
    const ItemId id{Query{database_,
                          "INSERT INTO item (kind, words, opened_on, session, at_ns, mark, task) "
                          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING id"}
                        .with(word_for(item_words, item.kind), std::string_view{item.words},
                              std::string_view{jigtime::to_text(item.opened_on)}, item.session, item.at, item.mark,
                              item.task)
                        .run_for_id()};
    if (item.closing) {
      if (Done closed = write_closing(id, item.closing); !closed) return closed.error();
    }
    return id;
  });
}

Done Editor::update(const OpenItem& item) {
  return attempt([&]() -> Done {
    const std::optional<OpenItem> before = read_item(database_, item.id);
    if (!before) return none("open item");
    if (Done fits = check_item(item); !fits) return fits;
    if (!same_opening(*before, item)) {
      const auto closed_in = before->closing ? before->closing->session : std::nullopt;
      for (const auto& session : {before->session, item.session, closed_in}) {
        if (!session) continue;
        if (Done open = need_session(*session); !open) return open;
      }
      Query{database_,
            "UPDATE item SET kind = ?2, words = ?3, opened_on = ?4, session = ?5, at_ns = ?6, mark = ?7, task = ?8 "
            "WHERE id = ?1"}
          .with(item.id, word_for(item_words, item.kind), std::string_view{item.words},
                std::string_view{jigtime::to_text(item.opened_on)}, item.session, item.at, item.mark, item.task)
          .run();
    }
    return before->closing == item.closing ? Done{} : write_closing(item.id, item.closing);
  });
}

Done Editor::remove(ItemId item) {
  return attempt([&]() -> Done {
    const std::optional<OpenItem> before = read_item(database_, item);
    if (!before) return none("open item");
    if (before->session) {
      if (Done open = need_session(*before->session); !open) return open;
    }
    if (Done opened = write_closing(item, std::nullopt); !opened) return opened;
    Query{database_, "DELETE FROM item WHERE id = ?1"}.with(item).run();
    return {};
  });
}

Done Editor::write_clearing(const Inspection& inspection, const Inspection& before) {
  if (inspection.cleared_on == before.cleared_on) return {};
  if (before.cleared_on && before.session) {
    if (Done open = need_session(*before.session); !open) return open;
  }
  Query{database_, "DELETE FROM inspection_clearing WHERE inspection = ?1"}.with(inspection.id).run();
  if (!inspection.cleared_on) return {};
  Query{database_, "INSERT INTO inspection_clearing (inspection, date) VALUES (?1, ?2)"}
      .with(inspection.id, date_text(inspection.cleared_on))
      .run();
  return {};
}

Result<InspectionId> Editor::add(const Inspection& inspection) {
  return attempt([&]() -> Result<InspectionId> {
    if (Done rules = check(inspection); !rules) return rules.error();
    if (inspection.session) {
      if (Done open = need_session(*inspection.session); !open) return open.error();
    }
    Inspection added = inspection;
    added.id = {Query{database_,
                      "INSERT INTO inspection (date, person, licence, looked_at, findings, stage, session, at_ns) "
                      "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) RETURNING id"}
                    .with(date_text(inspection.date), std::string_view{inspection.person},
                          std::string_view{inspection.licence}, std::string_view{inspection.looked_at},
                          std::string_view{inspection.findings}, std::string_view{inspection.stage}, inspection.session,
                          inspection.at)
                    .run_for_id()};
    if (Done cleared = write_clearing(added, {}); !cleared) return cleared.error();
    return added.id;
  });
}

Done Editor::update(const Inspection& inspection) {
  return attempt([&]() -> Done {
    const std::optional<Inspection> before = read_inspection(database_, inspection.id);
    if (!before) return none("inspection");
    if (Done rules = check(inspection); !rules) return rules;
    if (!same_finding(*before, inspection)) {
      for (const auto& session : {before->session, inspection.session}) {
        if (!session) continue;
        if (Done open = need_session(*session); !open) return open;
      }
      Query{database_,
            "UPDATE inspection SET date = ?2, person = ?3, licence = ?4, looked_at = ?5, findings = ?6, stage = ?7, "
            "session = ?8, at_ns = ?9 WHERE id = ?1"}
          .with(inspection.id, date_text(inspection.date), std::string_view{inspection.person},
                std::string_view{inspection.licence}, std::string_view{inspection.looked_at},
                std::string_view{inspection.findings}, std::string_view{inspection.stage}, inspection.session,
                inspection.at)
          .run();
    }
    return write_clearing(inspection, *before);
  });
}

Done Editor::remove(InspectionId inspection) {
  return attempt([&]() -> Done {
    const std::optional<Inspection> before = read_inspection(database_, inspection);
    if (!before) return none("inspection");
    if (before->session) {
      if (Done open = need_session(*before->session); !open) return open;
    }
    Query{database_, "DELETE FROM inspection WHERE id = ?1"}.with(inspection).run();
    return {};
  });
}

}  // namespace jigtime::store
