#include "actions/items.h"

#include <algorithm>
#include <map>

#include "actions/add_row.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

Result<journal::OpenItem> item_of(const store::Store& store, journal::ItemId id) {
  const auto items = store.items();
  if (!items) return items.error();
  for (const journal::OpenItem& item : *items) {
    if (item.id == id) return item;
  }
  return Error{Code::not_found, "There is no open item " + std::to_string(id.value) +
                                    ". \"jigtime item JOURNAL list --all\" prints them with their numbers."};
}

Done fill_from_session(journal::OpenItem& item, const journal::SessionRecord& record) {
  if (item.opened_on == std::chrono::year_month_day{}) item.opened_on = record.session.date;
  if (!item.mark) return {};
  for (const journal::Mark& mark : record.marks) {
    if (mark.id != *item.mark) continue;
    if (!item.at) item.at = mark.at;
    return {};
  }
  return Error{Code::not_found, "There is no mark " + std::to_string(item.mark->value) + " in the session of " +
                                    to_text(record.session.date) + "."};
}

Result<journal::OpenItem> item_from(const store::Store& store, const ItemWords& words) {
  journal::OpenItem item;
  item.kind = words.kind;
  item.words = words.words;
  item.opened_on = words.on.value_or(std::chrono::year_month_day{});
  item.session = words.session;
  item.at = words.at;
  item.mark = words.mark;
  if (words.session) {
    const auto record = store.record(*words.session);
    if (!record) return record.error();
    if (Done filled = fill_from_session(item, *record); !filled) return filled.error();
  }
  if (words.task.empty()) return item;
  const auto known = store.known();
  if (!known) return known.error();
  const journal::Task* task = known->task(words.task);
  if (task == nullptr) return Error{Code::not_found, "There is no task called \"" + words.task + "\". Add it first."};
  item.task = task->id;
  return item;
}

Done write_closing(store::Store& store, journal::ItemId id, std::string_view label,
                   std::optional<journal::ItemClosing> closing) {
  auto item = item_of(store, id);
  if (!item) return item.error();
  if (closing && item->closing) {
    return Error{Code::conflict, "The item was closed on " + to_text(item->closing->on) + " already. Reopen it first."};
  }
  item->closing = std::move(closing);
  return store.edit(label, [&](store::Edit& edit) { return edit.update(*item); });
}

int days_between(std::chrono::year_month_day from, std::chrono::year_month_day to) {
  return static_cast<int>((std::chrono::sys_days{to} - std::chrono::sys_days{from}).count());
}

Result<journal::Inspection> inspection_of(const store::Store& store, journal::InspectionId id) {
  const auto inspections = store.inspections();
  if (!inspections) return inspections.error();
  for (const journal::Inspection& inspection : *inspections) {
    if (inspection.id == id) return inspection;
  }
  return Error{Code::not_found, "There is no inspection " + std::to_string(id.value) +
                                    ". \"jigtime inspection JOURNAL list\" prints them with their numbers."};
}

}  // namespace

Result<journal::ItemId> open_item(store::Store& store, const ItemWords& words) {
  const auto item = item_from(store, words);
  if (!item) return item.error();
  if (item->opened_on == std::chrono::year_month_day{}) {
    return Error{Code::invalid, "Say on which day the item was opened, or in which session."};
  }
  return add_row(store, "open an item", *item);
}

Done close_item(store::Store& store, journal::ItemId id, journal::SessionId session, journal::SpanId span,
                const std::string& words) {
  const auto record = store.record(session);
  if (!record) return record.error();
  return write_closing(store, id, "close an item", journal::ItemClosing{record->session.date, span, session, words});
}

Done close_item(store::Store& store, journal::ItemId id, std::chrono::year_month_day on, const std::string& words) {
  return write_closing(store, id, "close an item", journal::ItemClosing{on, std::nullopt, std::nullopt, words});
}

Done reopen_item(store::Store& store, journal::ItemId id) {
  return write_closing(store, id, "reopen an item", std::nullopt);
}

Done delete_item(store::Store& store, journal::ItemId id) {
  return store.edit("delete an item", [&](store::Edit& edit) { return edit.remove(id); });
}

Result<std::vector<ItemLine>> list_items(const store::Store& store, Which which, std::chrono::year_month_day today) {
  const auto items = store.items();
  if (!items) return items.error();
  const auto known = store.known();
  if (!known) return known.error();
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  std::map<journal::SessionId, std::string> dates;
  for (const journal::Session& session : *sessions) dates[session.id] = to_text(session.date);
  std::vector<ItemLine> lines;
  for (const journal::OpenItem& item : *items) {
    if (which == Which::waiting && item.closing) continue;
    const journal::Task* task = item.task ? known->task(known->meant(*item.task)) : nullptr;
    lines.push_back({item, item.session ? dates[*item.session] : std::string{},
                     task == nullptr ? std::string{} : task->title,
                     days_between(item.opened_on, item.closing ? item.closing->on : today)});
  }
  return lines;
}

Result<journal::InspectionId> add_inspection(store::Store& store, const journal::Inspection& inspection) {
  return add_row(store, "add an inspection", inspection);
}

Done clear_inspection(store::Store& store, journal::InspectionId id, std::chrono::year_month_day on) {
  auto inspection = inspection_of(store, id);
  if (!inspection) return inspection.error();
  inspection->cleared_on = on;
  return store.edit("clear an inspection", [&](store::Edit& edit) { return edit.update(*inspection); });
}

Done delete_inspection(store::Store& store, journal::InspectionId id) {
  return store.edit("delete an inspection", [&](store::Edit& edit) { return edit.remove(id); });
}

}  // namespace jigtime::actions
