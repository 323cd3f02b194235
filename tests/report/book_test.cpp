#include "report/book.h"

#include <doctest/doctest.h>

#include <set>

#include "report/canvas.h"
#include "report/sample_book.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;

namespace {

std::string html_of(const Book& book) {
  std::string text;
  const Done written = write_html(book_document(book), [&](std::string_view bytes) -> Done {
    text += bytes;
    return {};
  });
  REQUIRE(written);
  return text;
}

/// One column of the tables of spans.
std::multiset<std::string> cells_of(const Book& book, std::size_t column) {
  std::multiset<std::string> cells;
  for (const Block& block : book_document(book).blocks) {
    const auto* table = std::get_if<Table>(&block);
    if (table == nullptr || table->columns.size() != 5 || table->columns[0].title != "When") continue;
    for (const Row& row : table->rows) cells.insert(row[column]);
  }
  return cells;
}

Book by_assembly(Book book) {
  book.order = BookOrder::by_assembly;
  return book;
}

}  // namespace

TEST_CASE("either order holds every span, mark and still once") {
  const Book book = test::sample_book({});
  for (const std::size_t column : {0U, 1U, 4U}) CHECK(cells_of(book, column) == cells_of(by_assembly(book), column));
  CHECK(cells_of(book, 0).size() == 27);
  const std::string dated = html_of(book);
  const std::string sorted = html_of(by_assembly(book));
  for (const char* words : {"First rivet of the row", "Finished skin."}) {
    CHECK(count(dated, words) == count(sorted, words));
    CHECK(count(dated, words) >= 9);
  }
}

TEST_CASE("photos stand beside the stills with place and time, and those not shown are named with the reason") {
  const Book book = test::sample_book({});
  for (const std::string& page : {html_of(book), html_of(by_assembly(book))}) {
    CHECK(count(page,
                "(0:40:00), Village workshop, Vale Manso\nIMG_0007.JPG, phone\nGauge on the head.</figcaption>") == 1);
    CHECK(count(page, "IMG_0008.HEIC") == 1);
    CHECK(contains(page,
                   "Photo  at no known time, Village workshop, Vale Manso, IMG_0008.HEIC, phone (Not shown: only JPEG "
                   "and PNG files are shown.)"));
  }
}

TEST_CASE("the book says what it is and what it is not") {
  const std::string page = html_of(test::sample_book({}));
  for (const char* words : {"Records of the builder", "Findings are the authority&#39;s", "It approves nothing",
                            "Reference values only."}) {
    CAPTURE(words);
    CHECK(contains(page, words));
  }
}

TEST_CASE("amendments stand beside their entry and in the chain, with their reason") {
  const std::string page = html_of(test::sample_book({}));
  CHECK(count(page, "Counted again.") == 2);
  CHECK(contains(page, "&quot;40 set&quot; should say &quot;39 set&quot;"));
}

TEST_CASE("what lies before the first day is brought forward and printed no more") {
  Book book = test::sample_book({});
  book.from = std::chrono::year{2026} / 1 / 1;
  const std::string page = html_of(book);
  CHECK(contains(page, "Brought forward"));
  CHECK_FALSE(contains(page, "24 December 2025, entry 1:"));
  CHECK(contains(page, "With all before"));
}

TEST_CASE("a line of a checklist shows the hours, sessions and evidence of its tasks and of their parts") {
  const std::string page = html_of(test::sample_book({}));
  CHECK(contains(page, "Assemble the elevator\n– Dimple elevator skin\n– Rivet elevator skin"));
  CHECK(contains(page, "does not apply"));
  CHECK(contains(page, "stills"));
}

TEST_CASE("faults found when the book was made are printed, not hidden") {
  Book book = test::sample_book({});
  book.faults = {"Entry 3 does not fit its digest."};
  const std::string page = html_of(book);
  CHECK(contains(page, "Entry 3 does not fit its digest."));
  CHECK_FALSE(contains(page, "everything fitted"));
}

TEST_CASE("a build without sessions is a book all the same") {
  const std::string page = html_of(test::empty_book());
  CHECK(contains(page, "There is no session in these days."));
  CHECK(contains(page, "No session has been sealed."));
}

TEST_CASE("a sink that fails ends the printing with its own error") {
  const Book book = test::sample_book({});
  const Sink full = [](std::string_view) -> Done { return Error{Code::no_space, "The disk is full."}; };
  CHECK(write_pdf(book_document(book), full).error().code() == Code::no_space);
  CHECK(write_html(book_document(book), full).error().code() == Code::no_space);
}

// ITU-T T.81, annex B.
TEST_CASE("a JPEG file's size is read from its frame, and nothing else is taken for one") {
  const std::vector<std::uint8_t> jpeg{0xFF, 0xD8, 0xFF, 0xE0, 0,   4, 1,   2, 0xFF, 0xC0,
                                       0,    17,   8,    1,    104, 2, 128, 3, 1,    34};
  const auto size = jpeg_size(jpeg);
  REQUIRE(size);
  CHECK(size->width == 640);
  CHECK(size->height == 360);
  CHECK_FALSE(jpeg_size({}));
  CHECK_FALSE(jpeg_size(std::vector<std::uint8_t>(jpeg.begin(), jpeg.begin() + 10)));
  CHECK_FALSE(jpeg_size(std::vector<std::uint8_t>{'<', 's', 'v', 'g', '>'}));
}

TEST_CASE("a damaged still is said, and the book goes on") {
  std::string bytes;
  const Book book = test::sample_book({'<', 's', 'v', 'g', '>'});
  const Done written = write_pdf(book_document(book), [&](std::string_view part) -> Done {
    bytes += part;
    return {};
  });
  CHECK(written);
  CHECK(bytes.starts_with("%PDF-1."));
  CHECK(contains(html_of(book), "The still is damaged and is not shown."));
}

TEST_CASE("a night in which clocks were set back prints each time as the clock on the wall showed it") {
  Book book = test::sample_book({});
  book.sessions.resize(1);
  BookSession& session = book.sessions.front();
  journal::Session& about = session.record.session;
  // Lisbon, from UTC+1 to UTC at 01:00 UTC: 01:30 came twice.
  about.zero = WallTime{std::chrono::sys_days{std::chrono::year{2026} / 10 / 25}.time_since_epoch()};
  session.local = std::chrono::hours{1};
  session.change = ClockChange{*about.zero + std::chrono::hours{1}, std::chrono::hours{0}};
  session.record.spans.resize(1);
  session.record.spans.front().begin = SessionTime{std::chrono::minutes{30}};
  session.record.spans.front().end = SessionTime{std::chrono::minutes{90}};
  const auto when = cells_of(book, 0);
  REQUIRE(when.size() == 1);
  CHECK_MESSAGE(contains(*when.begin(), "01:30 to 01:30"), *when.begin());
  session.record.spans.front().end = SessionTime{std::chrono::hours{2}};
  CHECK(contains(*cells_of(book, 0).begin(), "01:30 to 02:00"));
}
