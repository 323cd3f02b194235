#include <doctest/doctest.h>

#include "actions/csv.h"
#include "actions/tagging.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

TEST_CASE("the examples of RFC 4180 section 2 are read as it says") {
  // Rule 6 and 7: fields with line breaks and doubled quotes.
  const auto rows = read_csv("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n\"aaa\",\"b\"\"bb\",\"ccc\"");
  REQUIRE(rows);
  REQUIRE(rows->size() == 3);
  CHECK((*rows)[0].fields == std::vector<std::string>{"aaa", "b\nbb", "ccc"});
  CHECK((*rows)[1].line == 3);
  CHECK((*rows)[2].fields[1] == "b\"bb");
}

TEST_CASE("tables as spreadsheets write them are read: byte order mark, semicolons, tabs, bare line feeds") {
  for (const char* text : {"\xEF\xBB\xBF"
                           "from;to;task\n0:00:01;0:00:02;a, b\n",
                           "from\tto\ttask\r\n0:00:01\t0:00:02\ta, b\r\n", "from,to,task\n0:00:01,0:00:02,\"a, b\""}) {
    const auto spans = read_tags(text);
    REQUIRE(spans);
    REQUIRE(spans->size() == 1);
    CHECK(spans->front().task == "a, b");
    CHECK(spans->front().to == SessionTime{2s});
  }
}

TEST_CASE("a separator is told from the heading outside its quotes, or by a line in front of it") {
  CHECK((*read_csv("\"a,b,c\";d\n1;2\n"))[1].fields == std::vector<std::string>{"1", "2"});
  const auto told = read_csv("sep=;\r\na,b;c\r\n1,5;2\r\n");
  REQUIRE(told);
  REQUIRE(told->size() == 2);
  CHECK(told->front().line == 2);
  CHECK(told->back().fields == std::vector<std::string>{"1,5", "2"});
}

TEST_CASE("lines may end in a carriage return alone, and empty rows of a spreadsheet are left out") {
  const auto rows = read_csv("a;b\r1;2\r;;\r  ;\r3;4");
  REQUIRE(rows);
  REQUIRE(rows->size() == 3);
  CHECK(rows->back().line == 5);
}

TEST_CASE("every quote at fault is named, and the line of bytes that are no UTF-8") {
  const auto rows = read_csv("a,b\n\"1\"x,2\n3,\"4\"y\n5,\"6\n");
  REQUIRE_FALSE(rows);
  for (const char* part :
       {"line 2: there is text behind", "line 3: there is text behind", "line 4: a quote is opened"}) {
    CHECK_MESSAGE(rows.error().message().find(part) != std::string::npos, rows.error().message());
  }
  CHECK(read_csv("a,b\n1,2\n3,\xE4\n").error().message().find("line 3: the table is not in UTF-8") == 0);
}

TEST_CASE("times with a decimal comma, headings in any case and padded cells are read") {
  const auto spans = read_tags("TASK; To ;From;;\r\nDimple;0:00:02,5;0:00:01,25;;\r\n;;;;\r\n");
  REQUIRE_MESSAGE(spans.ok(), (spans.ok() ? std::string{} : spans.error().message()));
  REQUIRE(spans->size() == 1);
  CHECK(spans->front().from == SessionTime{1250ms});
  CHECK(spans->front().to == SessionTime{2500ms});
}

TEST_CASE("people and fasteners may stand on lines of their own inside a cell") {
  const auto spans = read_tags(
      "from,to,task,people,fasteners\n0:00:01,0:00:02,a,\"Mara\r\nJoost\",\"MS20426AD3-3,5=4:squeezed\nAN470AD4-5="
      "2\"\n");
  REQUIRE_MESSAGE(spans.ok(), (spans.ok() ? std::string{} : spans.error().message()));
  CHECK(spans->front().people == std::vector<std::string>{"Mara", "Joost"});
  CHECK(spans->front().fasteners.size() == 2);
}

TEST_CASE("a row that contradicts itself or cannot be is named by line and column") {
  const std::pair<const char*, const char*> rows[] = {
      {"from,to,task,kind,break\n0:00:01,0:00:02,a,work,yes\n", "line 2, column break: it says yes"},
      {"from,to,task\n0:00:02,0:00:01,a\n", "line 2, column to: the span ends before it begins"},
      {"from,to,task\n0:00:02,0:00:02,a\n", "line 2, column to"},
      {"from,to,task\n0:00:01,0:00:02,\n", "line 2, column task: work needs a task"},
      {"from,to,task,fasteners\n0:00:01,0:00:02,a,ZZ=1\n", "line 2, column fasteners: Call-out \"ZZ\""},
      {"from,to,task,fasteners\n0:00:01,0:00:02,a,AN470AD4-5=x\n", "line 2, column fasteners: \"AN470AD4-5=x\""},
      {"from,to,task,fasteners\n0:00:01,0:00:02,a,AN470AD4-5=1:glued\n", "how they were set: driven, squeezed"},
      {"from,to,task,\n0:00:01,0:00:02,a,lost\n", "line 2, column 4: there are words in this cell and no heading"},
  };
  for (const auto& [text, fragment] : rows) {
    CAPTURE(text);
    const auto spans = read_tags(text);
    REQUIRE_FALSE(spans);
    CHECK_MESSAGE(spans.error().message().find(fragment) != std::string::npos, spans.error().message());
  }
}

TEST_CASE("a quote that is never closed is named by its line") {
  const auto rows = read_csv("a,b\n1,\"2\n3,4\n");
  REQUIRE_FALSE(rows);
  CHECK(rows.error().message().find("line 2") != std::string::npos);
}

TEST_CASE("text behind a closing quote and bytes that are no UTF-8 are refused") {
  CHECK_FALSE(read_csv("\"a\"b,c\n"));
  CHECK_FALSE(read_csv("a,\xFF\n"));
}

TEST_CASE("a full row becomes a span with all its words") {
  const auto spans = read_tags(
      "from,to,kind,task,people,fasteners,note\n"
      "0:10:00.5,0:20:00,work,Rivet skin,Mara; Joost,MS20426AD3-4=58-2;MS20470AD4-5=3,\"two lines\nof note\"\n"
      "0:20:00,0:25:00,break,,,,tea\n");
  REQUIRE(spans);
  REQUIRE(spans->size() == 2);
  const SpanWords& span = spans->front();
  CHECK(span.from == SessionTime{10min + 500ms});
  CHECK(span.people == std::vector<std::string>{"Mara", "Joost"});
  CHECK(span.fasteners == std::vector<std::string>{"MS20426AD3-4=58-2", "MS20470AD4-5=3"});
  CHECK(span.note == "two lines\nof note");
  CHECK_FALSE(span.pause);
  CHECK(spans->back().pause);
  CHECK(spans->back().line == 4);
}

TEST_CASE("columns may be named in the singular and stand in any order") {
  const auto spans = read_tags("task,person,break,to,from\nDimple,Mara,no,0:00:02,0:00:01\n");
  REQUIRE(spans);
  CHECK(spans->front().people == std::vector<std::string>{"Mara"});
  CHECK(spans->front().from == SessionTime{1s});
}

TEST_CASE("every bad row is named by line and column, and nothing is read") {
  const auto spans =
      read_tags("from,to,task\n0:10,0:20:00,a\n0:10:00,soon,b\n0:10:00,0:20:00,c,too many\n0:10:00,0:20:00,d\n");
  REQUIRE_FALSE(spans);
  const std::string& message = spans.error().message();
  CHECK(message.find("line 2, column from: \"0:10\"") != std::string::npos);
  CHECK(message.find("line 3, column to: \"soon\"") != std::string::npos);
  CHECK(message.find("line 4, column 4: there are words in this cell") != std::string::npos);
  CHECK(message.find("line 5") == std::string::npos);
}

TEST_CASE("a table without the needed columns, with unknown or doubled ones, or empty is refused") {
  CHECK(read_tags("").error().message().find("empty") != std::string::npos);
  CHECK(read_tags("0:10:00,0:20:00\n").error().message().find("no column \"0:10:00\"") != std::string::npos);
  CHECK(read_tags("from,task\n").error().message().find("among them from and to") != std::string::npos);
  CHECK(read_tags("from,to,from\n").error().message().find("twice") != std::string::npos);
  CHECK(read_tags("from,to,colour\n").error().message().find("\"colour\"") != std::string::npos);
}

TEST_CASE("a table with a header alone tags nothing and is no error") { CHECK(read_tags("from,to,task\n")->empty()); }

TEST_CASE("a name that holds a separator stands in quotes among others, and a nickname in front of one stays") {
  const auto people = [](const std::string& cell) {
    return read_tags("from\tto\ttask\tpeople\n0:00:01\t0:00:02\ta\t" + cell + "\n")->front().people;
  };
  // In the table itself quotes around a cell are doubled once more (RFC 4180, section 2.7).
  CHECK(people("\"\"\"Bo; the elder\"\"; Mara\"") == std::vector<std::string>{"Bo; the elder", "Mara"});
  CHECK(people("\"Mara;\"\"a\"\"\"\"b|c\"\" \"") == std::vector<std::string>{"Mara", "a\"b|c"});
  CHECK(people("\"\"\"Shorty\"\" Miller;Mara\"") == std::vector<std::string>{"\"Shorty\" Miller", "Mara"});
  CHECK(people("\"\"\"open; Mara\"") == std::vector<std::string>{"\"open", "Mara"});
  CHECK(people("Bo, Ann & Mara") == std::vector<std::string>{"Bo, Ann & Mara"});
}

TEST_CASE("the apostrophe that keeps a spreadsheet from running a cell is no part of the text") {
  const auto task = [](const std::string& cell) {
    return read_tags("from,to,task\n0:00:01,0:00:02," + cell + "\n")->front().task;
  };
  CHECK(task("'=1+1") == "=1+1");
  CHECK(task("'-5 dimples") == "-5 dimples");
  CHECK(task("''=1+1") == "'=1+1");
  CHECK(task("'s Gravenhage rib") == "'s Gravenhage rib");
  CHECK(task("=1+1") == "=1+1");
}
