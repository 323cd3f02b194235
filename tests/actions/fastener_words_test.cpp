#include "actions/fastener_words.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using journal::Method;

TEST_CASE("a fastener is typed as call-out, number set, number drilled out and method") {
  struct Row {
    const char* text;
    const char* callout;
    int set;
    int drilled;
    Method method;
  };
  const Row rows[] = {
      {"AN426AD3-4=58-2", "MS20426AD3-4", 58, 2, Method::driven},
      {"MS20426AD3-3,5=58", "MS20426AD3-3.5", 58, 0, Method::driven},
      {"MS20470AD4-5 = 12 - 1 : squeezed", "MS20470AD4-5", 12, 1, Method::squeezed},
      {"MS20600AD4W3=7", "MS20600AD4W3", 7, 0, Method::pulled},
      {"MS20600AD4W3=7:other", "MS20600AD4W3", 7, 0, Method::other},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto line = parse_fastener(row.text);
    REQUIRE_MESSAGE(line.ok(), (line.ok() ? std::string{} : line.error().message()));
    CHECK(*line == journal::FastenerLine{row.callout, row.method, row.set, row.drilled});
  }
}

TEST_CASE("what is no fastener is refused with what would do") {
  const std::pair<const char*, const char*> rows[] = {
      {"MS20470AD4-5", "not of the form CALLOUT=SET[-DRILLED][:METHOD]"},
      {"MS20470AD4-5=", "behind the = stands the number set"},
      {"MS20470AD4-5=-1", "behind the = stands the number set"},
      {"MS20470AD4-5=100000", "at most 99999"},
      {"MS20470AD4-5=1-", "behind the = stands the number set"},
      {"MS20470AD4-5=1:", "how they were set: driven, squeezed, pulled or other"},
      {"MS20470AD4-5=1:Driven", "how they were set"},
      {"MS20470AD3.5-5=1", "diameter 3.5/32 does not exist"},
      {"=3", "The call-out is empty"},
  };
  for (const auto& [text, fragment] : rows) {
    CAPTURE(text);
    const auto line = parse_fastener(text);
    REQUIRE_FALSE(line);
    CHECK(line.error().code() == Code::invalid);
    CHECK_MESSAGE(line.error().message().find(fragment) != std::string::npos, line.error().message());
  }
}
