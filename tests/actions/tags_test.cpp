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
  CHECK((*rows)[0].fields == std::vector<std::string>{"aaa", "b\r\nbb", "ccc"});
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
  CHECK(message.find("line 4 has 4 cells, the header 3") != std::string::npos);
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
