#include <doctest/doctest.h>

#include <string>

#include "journal/refused.h"
#include "journal/rules.h"
#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

TEST_CASE("names in any script and with any sign are valid") {
  for (const std::string name : {"Ana", "Łucja Ó Dónaill", "梁", "O'Brien; DROP TABLE person;--", "../../etc/passwd",
                                 "<b>bold</b> & \"quoted\"", "a\\b", "🛩"}) {
    CAPTURE(name);
    CHECK(check_name(name, "The name").ok());
  }
}

TEST_CASE("names that cannot be told apart or printed are refused") {
  struct Row {
    std::string name;
    std::string said;
  };
  const std::vector<Row> rows = {{"", "The name is empty"},
                                 {" ", "is empty"},
                                 {"\t\n", "is empty"},
                                 {" Ana", "begins or ends with a blank"},
                                 {"Ana ", "begins or ends with a blank"},
                                 {"A\nB", "control character or a line end"},
                                 {"A\tB", "control character"},
                                 {std::string{"A\0B", 3}, "control character"},
                                 {"A\x1B[31mB", "control character"},
                                 {"A\x7F", "control character"},
                                 {"A\xC2\x85"
                                  "B",
                                  "control character"},
                                 {"A\xFF", "not UTF-8"},
                                 {"\xED\xA0\x80", "not UTF-8"},
                                 {std::string(201, 'x'), "201 bytes long"}};
  for (const Row& row : rows) {
    CAPTURE(row.name);
    CHECK(holds(refused(check_name(row.name, "The name")), row.said));
  }
}

TEST_CASE("a refused name is shown in a form fit to be printed, and not whole") {
  const std::string said = refused(check_name("A\x1B[31m\n" + std::string(300, 'x'), "The name"));
  CHECK(said.find('\x1B') == std::string::npos);
  CHECK(said.find('\n') == std::string::npos);
  CHECK(said.size() < 200);
}

TEST_CASE("a name of exactly 200 bytes is valid") { CHECK(check_name(std::string(200, 'x'), "The name").ok()); }

TEST_CASE("a short text may be empty but follows the rules of names") {
  CHECK(check_short_text("", "The place").ok());
  CHECK(holds(refused(check_short_text("a\nb", "The place")), "The place \"a b\" holds a control character"));
}

TEST_CASE("a slash in an assembly's name is refused because paths use it") {
  CHECK(check(Assembly{{}, std::nullopt, "Wing, right"}).ok());
  CHECK(holds(refused(check(Assembly{{}, std::nullopt, "Wing/Tip"})), "stands between the levels"));
}

TEST_CASE("the build's texts are checked one by one") {
  CHECK(check(sample_build()).ok());
  for (std::string Build::*member : {&Build::name, &Build::registration, &Build::place, &Build::zone}) {
    Build build = sample_build();
    build.*member = "a\x01";
    CHECK(holds(refused(check(build)), "control character"));
  }
}

TEST_CASE("people, tasks and cameras need a name") {
  CHECK(holds(refused(check(Person{})), "The person's name is empty"));
  CHECK(holds(refused(check(Task{})), "The task's title is empty"));
  CHECK(holds(refused(check(Camera{})), "The camera's name is empty"));
  CHECK(check(sample_register().people[0]).ok());
  CHECK(check(sample_register().tasks[0]).ok());
  CHECK(check(sample_register().cameras[0]).ok());
}

TEST_CASE("a task's plan reference follows the rules of names") {
  Task task = sample_register().tasks[0];
  task.plan_sheet = "7\n";
  CHECK(holds(refused(check(task)), "The plan sheet"));
  task.plan_sheet = "7";
  task.plan_step = "\xFF";
  CHECK(holds(refused(check(task)), "The plan step"));
}

TEST_CASE("a name with a letter that cannot be seen is refused, and one that its script needs is not") {
  for (const std::string letter : {"\u200B", "\u2060", "\uFEFF", "\u202B", "\u2067", "\u2028", "\u2029"}) {
    for (const std::string& name : {"Ma" + letter + "ra", letter + "Mara", "Mara" + letter}) {
      CHECK(holds(refused(check(Person{{1}, name, Role::builder})), "holds a letter that cannot be seen"));
    }
  }
  for (const std::string name : {"Zoë Å", "مریم\u200Cسادات", "👩\u200D🔧", "佐藤"}) {
    CHECK(check(Person{{1}, name, Role::builder}).ok());
  }
}

TEST_CASE("a note may be of two directions, and no text may be made to read as another") {
  CHECK(check_note("from \u2067\u05E8\u05D5\u05EA\u05DD\u2069, by hand", "The note").ok());
  // The Unicode Standard, 23.7: U+FFFE and U+FFFF are no characters.
  for (const std::string letter : {"\u202D", "\u202E", "\uFFFE", "\uFFFF"}) {
    CHECK(holds(refused(check_note("3 rivets " + letter + "drilled", "The note")), "read as another text"));
    CHECK(holds(refused(check_name("Ma" + letter + "ra", "The name")), "read as another text"));
  }
}

TEST_CASE("a session needs a date of the calendar") {
  using std::chrono::year;
  Session session = sample_record().session;
  CHECK(check(session).ok());
  session.date = year{2024} / 2 / 29;
  CHECK(check(session).ok());
  for (const auto date : {year{2026} / 2 / 29, year{2026} / 13 / 1, year{-1} / 1 / 1, year{10000} / 1 / 1}) {
    session.date = date;
    CHECK(holds(refused(check(session)), "no date of the calendar"));
  }
}

TEST_CASE("a session beyond a hundred years from 1970 is refused") {
  Session session = sample_record().session;
  session.zero = WallTime{farthest};
  CHECK(check(session).ok());
  session.zero = WallTime{farthest + 1ns};
  CHECK(holds(refused(check(session)), "Check the camera clocks"));
}

TEST_CASE("a session cannot hold the builder's word on its beginning without a beginning") {
  Session session = sample_record().session;
  session.zero_fixed = true;
  CHECK(check(session).ok());
  session.zero.reset();
  CHECK(holds(refused(check(session)), "Give its time of day"));
}

TEST_CASE("a clip needs files in order and possible times") {
  CHECK(check(sample_clip(1, {1})).ok());
  Clip clip = sample_clip(1, {1});
  clip.parts.clear();
  CHECK(holds(refused(check(clip)), "has no file"));
  clip = sample_clip(1, {1});
  clip.length = -1ns;
  CHECK(holds(refused(check(clip)), "impossible length"));
  clip = sample_clip(1, {1});
  clip.parts[1].path.clear();
  CHECK(holds(refused(check(clip)), "has no path"));
  clip = sample_clip(1, {1});
  clip.parts[1].length = -1ns;
  CHECK(holds(refused(check(clip)), "\"a2.mp4\" has an impossible time"));
  clip = sample_clip(1, {1});
  std::swap(clip.parts[0].clip_from, clip.parts[1].clip_from);
  CHECK(holds(refused(check(clip)), "\"a2.mp4\" begins before"));
}
