#include "cli/open_journal.h"

#include "actions/history.h"
#include "base/text.h"
#include "cli/commands.h"

namespace jigtime::cli {

Result<store::Store> open_journal(const std::string& path) { return actions::open_journal(path); }

Result<OpenSession> open_session(const std::string& path, const std::string& date) {
  auto store = open_journal(path);
  if (!store) return store.error();
  if (!date.empty()) {
    const auto day = date_of(date);
    if (!day) return day.error();
    auto session = store->session(*day);
    if (!session) return session.error();
    return OpenSession{std::move(*store), std::move(*session)};
  }
  const auto sessions = store->sessions();
  if (!sessions) return sessions.error();
  if (sessions->empty())
    return Error{Code::not_found, "The journal has no session yet. Import some footage first: jigtime import."};
  if (sessions->size() > 1) {
    return Error{Code::invalid, "The journal has " + std::to_string(sessions->size()) + " sessions, the last on " +
                                    to_text(sessions->back().date) + ". Say which: --session YYYY-MM-DD."};
  }
  journal::Session only = sessions->front();
  return OpenSession{std::move(*store), std::move(only)};
}

}  // namespace jigtime::cli
