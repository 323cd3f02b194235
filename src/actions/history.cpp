#include "actions/history.h"

#include <cstdlib>

#include "base/text.h"

namespace jigtime::actions {

std::string name_here() {
  for (const char* variable : {"LOGNAME", "USER"}) {
    const char* name = std::getenv(variable);
    if (name != nullptr && *name != '\0') return to_utf8(name);
  }
  return {};
}

Result<store::Store> open_journal(const std::filesystem::path& path) {
  auto store = store::Store::open(path);
  if (store) store->sign_as(name_here());
  return store;
}

Result<store::Change> undo(store::Store& store) { return store.undo(); }
Result<store::Change> redo(store::Store& store) { return store.redo(); }

Result<std::vector<store::Change>> history(const store::Store& store, int most) { return store.history(most); }

Done back_up(const store::Store& store, const std::filesystem::path& to) { return store.back_up(to); }

}  // namespace jigtime::actions
