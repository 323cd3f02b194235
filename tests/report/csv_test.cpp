#include <doctest/doctest.h>

#include "report/outside.h"
#include "report/report.h"
#include "report/sample_sessions.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;

namespace {

/// What Python's csv module reads, each record as a list on one line.
std::string read_by_python(const std::string& csv) {
  const test::Outcome outcome = test::run_on(
      "/usr/bin/python3 -c 'import csv, sys\nfor r in csv.reader(open(sys.argv[1], newline=\"\", encoding=\"utf-8\"), "
      "strict=True): print(len(r), ascii(r))'",
      csv);
  REQUIRE(outcome.status == 0);
  return outcome.output;
}

}  // namespace

// RFC 4180, section 2.6 and 2.7.
TEST_CASE("a field is quoted when it holds a comma, a quote or a line break, and only then") {
  CHECK(csv_field("plain words") == "plain words");
  CHECK(csv_field("") == "");
  CHECK(csv_field("a,b") == "\"a,b\"");
  CHECK(csv_field("b\"bb") == "\"b\"\"bb\"");
  CHECK(csv_field("b\r\nbb") == "\"b\r\nbb\"");
  CHECK(csv_field(" blanks stay ") == " blanks stay ");
}

// Which characters start a formula: common practice of spreadsheet programs, no standard.
TEST_CASE("a field that a spreadsheet would run gets an apostrophe in front") {
  for (const char* text : {"=1+1", "+1", "-1", "@SUM(A1)", "\tx"}) CHECK(csv_field(text) == "'" + std::string{text});
  CHECK(csv_field("=HYPERLINK(\"x\",\"y\")") == "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"");
  CHECK(csv_field("\r=1") == "\"'\r=1\"");
  CHECK(csv_field("1=1") == "1=1");
  CHECK(csv_field("'=1") == "''=1");
  CHECK(csv_field("'s Gravenhage") == "'s Gravenhage");
}

TEST_CASE("hours are written one row a task and person, rounded so that they add up") {
  const Timeline timeline = test::elevator_session();
  const std::string csv =
      hours_csv({timeline.record.session}, timeline.known, timeline.hours, journal::Rounding::tenth_hour);
  // Builder: 34 min dimpling, 42 + 47 min riveting, all outside the breaks. Helper: 42 min riveting less the 7.5 min on
  // the edge, which lie inside it. In tenths: 5.67, 14.83, 5.75, 1.25, together 27.5, so 28 of them.
  CHECK(csv ==
        "date,task,assembly,person,role,seconds,hours\r\n"
        "2026-03-14,Dimple elevator skin,\"Tail / Elevator, left\",Ilda Serrano,builder,2040,0.6\r\n"
        "2026-03-14,Rivet elevator skin,\"Tail / Elevator, left\",Ilda Serrano,builder,5340,1.5\r\n"
        "2026-03-14,Rivet elevator skin,\"Tail / Elevator, left\",Bento Ayoub,helper,2070,0.6\r\n"
        "2026-03-14,Bend and clamp trailing edge,\"Tail / Elevator, left\",Bento Ayoub,helper,450,0.1\r\n");
}

TEST_CASE("another program reads every field back, hostile ones too") {
  Timeline timeline = test::hostile_session();
  timeline.known.tasks[0].title = "=cmd|' /C calc'!A0\nsecond line, \"quoted\"";
  const std::string csv =
      hours_csv({timeline.record.session}, timeline.known, timeline.hours, journal::Rounding::minute);
  const std::string read = read_by_python(csv);
  CHECK(contains(read, "7 ['date', 'task', 'assembly', 'person', 'role', 'seconds', 'hours']"));
  CHECK(contains(read, R"('\'=cmd|\' /C calc\'!A0\nsecond line, "quoted"')"));
  for (std::size_t at = 0; at < read.size(); at = read.find('\n', at) + 1) CHECK(read.compare(at, 2, "7 ") == 0);
}

TEST_CASE("without rounding the seconds of the rows still add up to the total") {
  Timeline timeline = test::elevator_session();
  timeline.hours.rows.resize(3);
  for (journal::HoursRow& row : timeline.hours.rows) row.worked = std::chrono::milliseconds{10'400};
  const std::string csv = hours_csv({timeline.record.session}, timeline.known, timeline.hours, journal::Rounding::none);
  // Three times 10.4 s are 31.2 s: 31, not 30.
  const std::string sum = test::run_on(
                              "/usr/bin/python3 -c 'import csv, sys\nprint(sum(int(r[\"seconds\"]) for r in "
                              "csv.DictReader(open(sys.argv[1], newline=\"\"))))'",
                              csv)
                              .output;
  CHECK(sum == "31\n");
}

TEST_CASE("rows whose session, task or person is not there keep their place with empty fields") {
  journal::Hours hours;
  hours.rows = {{{9}, journal::TaskId{9}, {9}, std::chrono::hours{1}, Length{0}}};
  CHECK(hours_csv({}, {}, hours, journal::Rounding::quarter_hour) ==
        "date,task,assembly,person,role,seconds,hours\r\n,,,,,3600,1.00\r\n");
}

TEST_CASE("no hours give the header line alone") {
  CHECK(hours_csv({}, {}, {}, journal::Rounding::none) == "date,task,assembly,person,role,seconds,hours\r\n");
}
