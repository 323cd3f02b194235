#include "app/view/fastener_entry.h"

#include <doctest/doctest.h>

#include "actions/fastener_words.h"

using namespace jigtime;
using namespace jigtime::app;

namespace {

const std::vector<std::string> likely{"MS20426AD3-4", "MS20470AD4-5", "MS20426AD3-3.5", "MS20470AD3-3.5",
                                      "MS20426AD13-4"};

std::string read(const char* typed) {
  const auto line = read_fasteners(typed, likely);
  return line ? *line : "refused: " + line.error().message();
}

}  // namespace

TEST_CASE("short and whole call-outs are read with their counts") {
  struct Row {
    const char* typed;
    const char* means;
  };
  constexpr Row rows[] = {
      {"3-4 x 72", "MS20426AD3-4=72"},          {"3-4 x72", "MS20426AD3-4=72"},
      {"3-4x72-2", "MS20426AD3-4=72-2"},        {"  3-4  X  72 - 2 squeezed ", "MS20426AD3-4=72-2:squeezed"},
      {"3-4 * 5 d", "MS20426AD3-4=5:driven"},   {"4-5 \xC3\x97 10", "MS20470AD4-5=10"},
      {"426 3-3.5 x 8", "MS20426AD3-3.5=8"},    {"470 3-3,5 x 8", "MS20470AD3-3.5=8"},
      {"MS20426AD3-4 x 72", "MS20426AD3-4=72"}, {"ms20470 ad4-3.5 x 3", "MS20470AD4-3.5=3"},
      {"AN426AD3-5=12", "MS20426AD3-5=12"},     {"MS20426AD3-4=58-2:squeezed", "MS20426AD3-4=58-2:squeezed"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.typed);
    CHECK(read(row.typed) == row.means);
    CHECK(actions::parse_fastener(read(row.typed)));  // what the journal's own reader takes
  }
}

TEST_CASE("what could be several, or nothing, is refused with what it could be") {
  struct Row {
    const char* typed;
    const char* says;
  };
  constexpr Row rows[] = {
      {"3-3.5 x 8", "MS20426AD3-3.5 and MS20470AD3-3.5"},
      {"6-7 x 8", "No rivet of size 6-7"},
      {"3-4", "typed like"},
      {"3-4 x", "typed like"},
      {"3-4 x many", "typed like"},
      {"3-4 x 123456", "typed like"},
      {"3-4 x -2", "typed like"},
      {"x 72", "typed like"},
      {"", "typed like"},
      {"3-4 x 72 glued", "none of driven"},
      {"MS20426ZZ3-4 x 2", "ZZ"},
      {"426 6-7 x 1", "No rivet of size 6-7"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.typed);
    const std::string words = read(row.typed);
    CHECK(words.starts_with("refused"));
    CHECK(words.find(row.says) != std::string::npos);
  }
}

TEST_CASE("what a drawing asks for is read with its count and grip") {
  CHECK(*read_planned("3-4 x 72", likely) == "MS20426AD3-4=72");
  CHECK(*read_planned(" MS20470AD4-6 x 12 @ 0.064", likely) == "MS20470AD4-6=12@ 0.064");
  CHECK(*read_planned("3-4 x 0", likely) == "MS20426AD3-4=0");
  for (const char* typed : {"", "3-4", "3-4 x", "3-4 x many", "3-4 x 72-2", "3-4 x 72 squeezed", "@0.064"}) {
    CAPTURE(typed);
    const auto read = read_planned(typed, likely);
    REQUIRE_FALSE(read);
    CHECK(read.error().message().find("72 @0.064") != std::string::npos);
  }
  CHECK_FALSE(read_planned("3-3.5 x 8", likely));
}

TEST_CASE("size 3-4 never means 13-4") { CHECK(read("3-4 x 1") == "MS20426AD3-4=1"); }

TEST_CASE("completions keep what was typed behind the call-out") {
  CHECK(completions("3-3.5 x 8", likely, 2) == std::vector<std::string>{"MS20426AD3-3.5 x 8", "MS20470AD3-3.5 x 8"});
  CHECK(completions("470", likely, 9) == std::vector<std::string>{"MS20470AD4-5 x ", "MS20470AD3-3.5 x "});
  CHECK(completions("", likely, 2).size() == 2);
  CHECK(completions("nothing of the kind", likely, 9).empty());
}

TEST_CASE("half a length is completed from the likely call-outs first, then from the handbook") {
  CHECK(completions("3-3", likely, 9) == std::vector<std::string>{"MS20426AD3-3.5 x ", "MS20470AD3-3.5 x ",
                                                                  "MS20426AD3-3 x ", "MS20470AD3-3 x ",
                                                                  "NAS1097AD3-3 x "});
  CHECK(completions("426 3-3", likely, 9) == std::vector<std::string>{"MS20426AD3-3.5 x ", "MS20426AD3-3 x "});
  CHECK(completions("470 5-9", {}, 9) == std::vector<std::string>{"MS20470AD5-9 x "});
  CHECK(completions("an470 ad4-6", {}, 9) == std::vector<std::string>{"MS20470AD4-6 x "});
  for (const std::string& line : completions("3-3", {}, 9)) CHECK(read_fasteners(line + "8", {}));
}

TEST_CASE("a length that has its count is complete, and a size that does not exist is not offered") {
  CHECK(completions("3-4 x 8", likely, 9).front() == "MS20426AD3-4 x 8");
  for (const std::string& line : completions("3-3 x 8", likely, 9)) CHECK(line.find("3-3.5") == std::string::npos);
  CHECK(completions("99-4", likely, 9).empty());
  CHECK(completions("426 3-4.7", likely, 9).empty());
}

TEST_CASE("what is planned for the task comes first among the likely ones") {
  journal::Register known;
  known.tasks = {{journal::TaskId{1}, "Drill", {}, "", ""}, {journal::TaskId{2}, "Rivet", {}, "", ""}};
  known.planned = {{journal::PlannedId{1}, journal::TaskId{1}, "MS20470AD4-5", 3},
                   {journal::PlannedId{2}, journal::TaskId{2}, "MS20426AD3-4", 56}};
  journal::SessionRecord record;
  record.spans.emplace_back().fasteners = {{"MS20426AD3-5", journal::Method::driven, 2, 0},
                                           {"MS20426AD3-4", journal::Method::driven, 2, 0}};
  CHECK(likely_callouts(known, record, "Rivet") ==
        std::vector<std::string>{"MS20426AD3-4", "MS20470AD4-5", "MS20426AD3-5"});
  CHECK(likely_callouts({}, {}, "no such task").empty());
}
