// The desk for tests that tag and then look at the record.
#pragma once

#include <doctest/doctest.h>

#include "actions/tagging.h"
#include "desk.h"

namespace jigtime::test {

struct TaggedDesk : Desk {
  journal::SpanId tag(Length from, Length to, const std::string& task, std::vector<std::string> people,
                      std::vector<std::string> fasteners = {}) {
    actions::SpanWords words;
    words.from = SessionTime{from};
    words.to = SessionTime{to};
    words.task = task;
    words.people = std::move(people);
    words.fasteners = std::move(fasteners);
    const auto tagged = actions::add_spans(store, session, {words});
    REQUIRE(tagged);
    return tagged->spans.front();
  }

  journal::SessionRecord record() const { return *store.record(session); }
  journal::Register known() const { return *store.known(); }
};

template <class T>
std::string said(const Result<T>& result) {
  return result ? "ok" : std::string{to_text(result.error().code())} + ": " + result.error().message();
}

inline bool holds(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

}  // namespace jigtime::test
