#include "actions/running_table.h"

#include <doctest/doctest.h>

#include <fstream>

#include "actions/whole_file.h"
#include "report/report.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;
namespace fs = std::filesystem;

namespace {

const std::string digest(64, 'a');
const std::string header = std::string{report::sealed_hours_header} + "\r\n";
const std::string row = "1," + digest + ",2026-03-14,Dimple,Tail,Mara,builder,5400,1.5\r\n";
const std::string fresh =
    "2," + std::string(64, 'b') + ",2026-03-15,\"Rivet; left, inner\",Tail,Mara,builder,900,0.25\r\n";

std::string replaced(std::string text, std::string_view what, std::string_view with) {
  text.replace(text.find(what), what.size(), with);
  return text;
}

class Table {
 public:
  explicit Table(const std::string& text) { std::ofstream{file(), std::ios::binary} << text; }
  fs::path file() const { return folder_ / "running.csv"; }
  Result<RunningTable> read() const { return RunningTable::read(file()); }
  std::string refused() const {
    const auto table = read();
    return table ? "taken" : table.error().message();
  }

 private:
  test::TempFolder folder_;
};

}  // namespace

TEST_CASE("a table tells how many rows and seconds it has of each entry, and takes more behind them") {
  const auto table = Table{header + row + replaced(row, "5400,1.5", "60,0.0")}.read();
  REQUIRE_MESSAGE(table.ok(), (table.ok() ? std::string{} : table.error().message()));
  const RunningTable::Sum& sum = table->entries().at(digest);
  CHECK(sum.entry == 1);
  CHECK(sum.rows == 2);
  CHECK(sum.seconds == 5460);
  CHECK(table->with(fresh) == header + row + replaced(row, "5400,1.5", "60,0.0") + fresh);
}

TEST_CASE("a table that is not there, or empty, begins with its first line") {
  const test::TempFolder folder;
  CHECK(RunningTable::read(folder / "new.csv")->with(fresh) == header + fresh);
  CHECK(Table{""}.read()->with(fresh) == header + fresh);
}

TEST_CASE("a table that a spreadsheet saved with semicolons and decimal commas goes on in the same way") {
  // Common practice of spreadsheets where the comma is the decimal sign; no standard.
  const std::string saved =
      "\xEF\xBB\xBF"
      "entry;digest;date;task;assembly;person;role;seconds;hours\n1;" +
      digest + ";14.03.2026;Dimple;Tail;Mara;builder;5400;1,5\n";
  const auto table = Table{saved}.read();
  REQUIRE_MESSAGE(table.ok(), (table.ok() ? std::string{} : table.error().message()));
  CHECK(table->entries().at(digest).seconds == 5400);
  CHECK(table->with(fresh) ==
        saved + "2;" + std::string(64, 'b') + ";2026-03-15;\"Rivet; left, inner\";Tail;Mara;builder;900;0,25\r\n");
}

TEST_CASE("a table with tabs keeps its points, and one with none of a line's end gets one") {
  std::string saved = header + row;
  for (char& c : saved) c = c == ',' ? '\t' : c;
  saved.resize(saved.size() - 2);
  const auto table = Table{saved}.read();
  REQUIRE(table);
  CHECK(table->with(fresh).ends_with("\t1.5\r\n2\t" + std::string(64, 'b') +
                                     "\t2026-03-15\tRivet; left, inner\tTail\tMara\tbuilder\t900\t0.25\r\n"));
}

TEST_CASE("a row that was damaged is named by its line, and nothing is believed of it") {
  const std::pair<std::string, const char*> rows[] = {
      {replaced(row, "1,", "one,"), "line 3: \"one\" is no entry's number"},
      {replaced(row, "1,", "0,"), "line 3: \"0\" is no entry's number"},
      {replaced(row, "1,", "2,"), "line 3: the entry's number and its digest do not go together"},
      {replaced(row, "aaaa", "aaa"), "is no digest"},
      {replaced(row, "5400", "54OO"), "line 3: \"54OO\" is no number of seconds"},
      {replaced(row, "5400", "-5400"), "is no number of seconds"},
      {replaced(row, "5400", ""), "is no number of seconds"},
      {replaced(row, "1.5", "15"), "line 3: \"15\" is not the hours that 5400 seconds are"},
      {replaced(row, "1.5", "nan"), "is not the hours"},
      {replaced(row, "1.5", ""), "is not the hours"},
      {replaced(row, ",1.5", ""), "line 3: the row is not whole"},
  };
  for (const auto& [damaged, message] : rows) {
    const std::string said = Table{header + row + damaged}.refused();
    CHECK_MESSAGE(said.find(message) != std::string::npos, said);
  }
}

TEST_CASE("blank lines alone, another table and a text that is none are left alone") {
  for (const char* text : {"\r\n\r\n", "date,hours\r\n", "some words"}) {
    CHECK(Table{text}.refused().find("is no table of sealed hours") != std::string::npos);
  }
}

TEST_CASE("a file that is locked against writing, a pipe, a folder and a link to nowhere are refused at once") {
  const Table table{header + row};
  fs::permissions(table.file(), fs::perms::owner_read);
  CHECK(table.read().error().code() == Code::denied);
  const test::TempFolder folder;
  fs::create_symlink(folder / "stick/hours.csv", folder / "link.csv");
  CHECK(RunningTable::read(folder / "link.csv").error().message().find("Connect the disk") != std::string::npos);
  CHECK_FALSE(RunningTable::read("/dev/zero"));
  CHECK_FALSE(RunningTable::read(folder.path()));
}
