// A journal in memory with one session.
#pragma once

#include <doctest/doctest.h>

#include "store/store.h"

namespace jigtime::test {

struct Desk {
  store::Store store = *store::Store::in_memory({"Marten, serial 7", "", "", "Europe/Lisbon", journal::Rounding::none});
  journal::SessionId session;

  Desk() { session = add_session(2026, 3, 14); }

  journal::SessionId add_session(int year, int month, int day) {
    journal::SessionId id;
    const Done added = store.edit("add a session", [&](store::Edit& edit) -> Done {
      journal::Session fresh;
      fresh.date = std::chrono::year{year} / month / day;
      const auto made = edit.add(fresh);
      if (!made) return made.error();
      id = *made;
      return {};
    });
    REQUIRE(added);
    return id;
  }
};

}  // namespace jigtime::test
