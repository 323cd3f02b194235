// What waits, and what somebody who knows looked at.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct ItemWords {
  journal::ItemKind kind = journal::ItemKind::part;
  std::string words;
  std::optional<std::chrono::year_month_day> on;  ///< nothing: the session's day
  std::optional<journal::SessionId> session;
  std::optional<SessionTime> at;
  std::optional<journal::MarkId> mark;  ///< gives the time too
  std::string task;                     ///< title of one that exists; empty for none
};
/// Errors: invalid, not_found (no such mark or task), conflict (sealed: open it without the session).
Result<journal::ItemId> open_item(store::Store& store, const ItemWords& words);

/// Closed by the work of a span, on that session's day.
Done close_item(store::Store& store, journal::ItemId item, journal::SessionId session, journal::SpanId span,
                const std::string& words);
Done close_item(store::Store& store, journal::ItemId item, std::chrono::year_month_day on, const std::string& words);
Done reopen_item(store::Store& store, journal::ItemId item);
Done delete_item(store::Store& store, journal::ItemId item);

struct ItemLine {
  journal::OpenItem item;
  std::string session;  ///< date; empty for none
  std::string task;
  int days = 0;  ///< from the day it was opened to the day it was closed, or to today
};
enum class Which { waiting, all };
/// Over all sessions, the oldest first.
Result<std::vector<ItemLine>> list_items(const store::Store& store, Which which, std::chrono::year_month_day today);

/// As journal::Inspection has it; the id is given.
Result<journal::InspectionId> add_inspection(store::Store& store, const journal::Inspection& inspection);
/// Its findings are put right. conflict when it was cleared already and its session is sealed.
Done clear_inspection(store::Store& store, journal::InspectionId inspection, std::chrono::year_month_day on);
Done delete_inspection(store::Store& store, journal::InspectionId inspection);

}  // namespace jigtime::actions
