// One row added to the journal as an edit of its own.
#pragma once

#include <string_view>
#include <utility>

#include "store/store.h"

namespace jigtime::actions {

/// The id of what Edit::add makes of `row`. Errors: what the edit failed with; nothing is added then.
template <class Row>
auto add_row(store::Store& store, std::string_view label, const Row& row) {
  using Added = decltype(std::declval<store::Edit&>().add(row));
  Added added = Error{Code::internal, "Nothing was added."};
  const Done done = store.edit(label, [&](store::Edit& edit) -> Done {
    added = edit.add(row);
    return added ? Done{} : Done{added.error()};
  });
  return done ? added : Added{done.error()};
}

}  // namespace jigtime::actions
