// A journal with the sample session in it, and helpers that fail the test when a step fails.
#pragma once

#include <doctest/doctest.h>

#include <string_view>
#include <utility>

#include "journal/sample.h"
#include "store/store.h"

namespace jigtime::test {

/// The value, or the end of the test with the error's words.
template <class T>
T must(Result<T> result) {
  if (!result) FAIL(result.error().message());
  return *std::move(result);
}

inline void must(const Done& done) {
  if (!done) FAIL(done.error().message());
}

/// What one edit gives back.
template <class Deed>
auto edited(store::Store& store, Deed deed) {
  using Outcome = decltype(deed(std::declval<store::Edit&>()));
  std::optional<Outcome> outcome;
  const Done done = store.edit("test", [&](store::Edit& edit) -> Done {
    outcome = deed(edit);
    if (!*outcome) return outcome->error();
    return {};
  });
  if constexpr (std::is_same_v<Outcome, Done>) {
    return done;
  } else {
    if (!done) return Outcome{done.error()};
    return *std::move(outcome);
  }
}

/// Adds everything of the sample. In a new journal the rows get the ids of the sample, but for parts and proposals.
inline void fill(store::Store& store) {
  const journal::Register known = sample_register();
  const journal::SessionRecord record = sample_record();
  must(store.edit("fill", [&](store::Edit& edit) -> Done {
    for (const auto& row : known.people) must(edit.add(row));
    for (const auto& row : known.assemblies) must(edit.add(row));
    for (const auto& row : known.checklists) must(edit.add(row));
    for (const auto& row : known.tasks) must(edit.add(row));
    for (const auto& row : known.planned) must(edit.set_planned(row));
    for (const auto& row : known.cameras) must(edit.add(row));
    must(edit.add(record.session));
    for (const auto& row : record.clips) must(edit.add(row));
    for (const auto& row : record.unreadable) must(edit.add(row));
    for (const auto& row : record.placements) must(edit.set_placement(row));
    for (const auto& row : record.clocks) must(edit.set_clock(row));
    for (const auto& row : record.ties) must(edit.add(row));
    for (const auto& row : record.spans) must(edit.add(row));
    for (const auto& row : record.marks) must(edit.add(row));
    for (const auto& row : record.items) must(edit.add(row));
    for (const auto& row : record.inspections) must(edit.add(row));
    for (const auto& row : record.photos) must(edit.add(row));
    for (const auto& row : record.stills) must(edit.add(row, still_bytes));
    return edit.set_proposals(record.session.id, record.proposals);
  }));
}

inline store::Store filled_store() {
  store::Store store = must(store::Store::in_memory(sample_build()));
  fill(store);
  return store;
}

inline journal::SessionRecord record_of(const store::Store& store) { return must(store.record({1})); }

}  // namespace jigtime::test
