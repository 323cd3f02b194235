#include "app/view/entry.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

TEST_CASE("titles that begin with what was typed come before those that hold it") {
  const std::vector<std::string> titles{"Deburr the skin", "Rivet the upper skin", "Skin the rudder"};
  CHECK(matching_titles("skin", titles, 9) ==
        std::vector<std::string>{"Skin the rudder", "Deburr the skin", "Rivet the upper skin"});
  CHECK(matching_titles("SKIN riv", titles, 9) == std::vector<std::string>{"Rivet the upper skin"});
  CHECK(matching_titles("", titles, 2).size() == 2);
  CHECK(matching_titles("prime", titles, 9).empty());
}

TEST_CASE("times are read as they are typed in a hurry") {
  struct Row {
    const char* typed;
    Length is;
  };
  const SessionTime now{10min};
  const Row rows[] = {{"1:02:03.5", 1h + 2min + 3500ms},
                      {"12:30", 12min + 30s},
                      {"3:05", 3min + 5s},
                      {"90", 90s},
                      {"90,5", 90500ms},
                      {"+30", 10min + 30s},
                      {"-1:00", 9min},
                      {"-99:00", 0s},
                      {"99:00", 1h + 39min},
                      {" 7 ", 7s}};
  for (const Row& row : rows) {
    CAPTURE(row.typed);
    const auto moment = read_moment(row.typed, now);
    REQUIRE(moment);
    CHECK(moment->time_since_epoch() == row.is);
  }
}

TEST_CASE("what is no time is refused with how times are typed") {
  for (const char* typed : {"", "noon", "1:2:3", "12:99", "1:60:00", "+", "--5", "1e5", "12:", "9999999"}) {
    CAPTURE(typed);
    const auto moment = read_moment(typed, SessionTime{});
    REQUIRE_FALSE(moment);
    CHECK(moment.error().code() == Code::invalid);
    CHECK(moment.error().message().find("1:02:03") != std::string::npos);
  }
}

TEST_CASE("what waits begins with its kind") {
  const auto waiting = read_waiting(" Tool  12 inch drill ");
  REQUIRE(waiting);
  CHECK(waiting->kind == journal::ItemKind::tool);
  CHECK(waiting->words == "12 inch drill");
}

TEST_CASE("something that waits without a kind or without words is refused with the kinds") {
  for (const char* typed : {"", "tool", "tool  ", "hammer is gone", "toolbox key"}) {
    CAPTURE(typed);
    const auto waiting = read_waiting(typed);
    REQUIRE_FALSE(waiting);
    CHECK(waiting.error().message().find("inspection") != std::string::npos);
  }
}
