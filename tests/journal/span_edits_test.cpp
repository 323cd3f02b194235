#include "journal/span_edits.h"

#include <doctest/doctest.h>

#include "journal/refused.h"
#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

/// [5 min, 50 min), Ana and Bo, two fastener lines, a note.
Span whole() { return sample_record().spans[0]; }

std::string words(const Error& error) { return std::string{to_text(error.code())} + ": " + error.message(); }

}  // namespace

TEST_CASE("a split span meets itself, and nothing set or noted is counted twice") {
  const auto halves = split(whole(), at(20min));
  REQUIRE(halves);
  CHECK(halves->first.id == SpanId{1});
  CHECK(halves->first.begin == at(5min));
  CHECK(halves->first.end == at(20min));
  CHECK(halves->first.fasteners == whole().fasteners);
  CHECK(halves->second.id == SpanId{});
  CHECK(halves->second.begin == at(20min));
  CHECK(halves->second.end == at(50min));
  CHECK(halves->second.people == whole().people);
  CHECK(halves->second.task == whole().task);
  CHECK(halves->second.fasteners.empty());
  CHECK(halves->second.note.empty());
}

TEST_CASE("a span is split inside itself only") {
  for (const Length where : {0min, 5min, 50min, 51min}) {
    CAPTURE(where.count());
    const auto refused = split(whole(), at(where));
    REQUIRE(!refused);
    CHECK(words(refused.error()) ==
          "invalid: A span can only be split inside itself: this one lasts from 0:05:00.000 to 0:50:00.000.");
  }
  CHECK(split(whole(), at(5min + 1ns)));
  CHECK(split(whole(), at(50min - 1ns)));
}

TEST_CASE("what was split and joined again is the same span") {
  const auto halves = split(whole(), at(20min));
  REQUIRE(halves);
  Span second = halves->second;
  second.id = {7};
  const auto again = joined(halves->first, second);
  REQUIRE(again);
  CHECK(*again == whole());
}

TEST_CASE("a trimmed span keeps the end that is not given, and never turns around") {
  const auto shorter = trimmed(whole(), std::nullopt, at(30min));
  REQUIRE(shorter);
  CHECK(shorter->begin == at(5min));
  CHECK(shorter->end == at(30min));
  CHECK(shorter->fasteners == whole().fasteners);
  CHECK(!trimmed(whole(), at(50min), std::nullopt));
  CHECK(!trimmed(whole(), std::nullopt, at(5min)));
  CHECK(!trimmed(whole(), at(9min), at(8min)));
}

TEST_CASE("joining adds up fasteners of one call-out and method and keeps both notes") {
  Span second = whole();
  second.id = {2};
  second.begin = at(50min);
  second.end = at(60min);
  second.fasteners = {{"MS20426AD3-4.5", Method::squeezed, 9, 2}, {"MS20426AD3-4.5", Method::driven, 1, 0}};
  second.note = "Went on.";
  std::reverse(second.people.begin(), second.people.end());
  const auto both = joined(whole(), second);
  REQUIRE(both);
  CHECK(both->end == at(60min));
  REQUIRE(both->fasteners.size() == 3);
  CHECK(both->fasteners[0] == FastenerLine{"MS20426AD3-4.5", Method::squeezed, 40, 3});
  CHECK(both->note == "Skin oil-cans.\nWent on.");
}

TEST_CASE("spans that a join would change hours by stay apart") {
  Span second = whole();
  second.id = {2};
  second.begin = at(50min);
  second.end = at(60min);
  struct Row {
    std::string fragment;
    void (*spoil)(Span&);
  };
  for (const auto& [fragment, spoil] : {Row{"Between the spans lie 0:01:00.000", [](Span& s) { s.begin = at(51min); }},
                                        Row{"different tasks", [](Span& s) { s.task = TaskId{2}; }},
                                        Row{"different people", [](Span& s) { s.people.pop_back(); }},
                                        Row{"different sessions", [](Span& s) { s.session = {2}; }},
                                        Row{"a break or off-camera", [](Span& s) { s.kind = SpanKind::pause; }},
                                        Row{"a break or off-camera", [](Span& s) { s.off_camera = true; }},
                                        Row{"one and the same", [](Span& s) { s.id = {1}; }}}) {
    CAPTURE(fragment);
    Span other = second;
    spoil(other);
    const auto refused = joined(whole(), other);
    REQUIRE(!refused);
    CHECK(refused.error().message().find(fragment) != std::string::npos);
  }
  CHECK(joined(second, whole()));
}
