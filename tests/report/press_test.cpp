#include "report/press.h"

#include <doctest/doctest.h>

#include <sstream>

#include "report/outside.h"
#include "report/sample_sessions.h"
#include "report/strips.h"

using namespace jigtime;
using namespace jigtime::report;

namespace {

std::string pdf_of(const Document& document) {
  std::string bytes;
  REQUIRE(write_pdf(document, [&](std::string_view part) -> Done {
    bytes += part;
    return {};
  }));
  return bytes;
}

/// What pdftotext reads on each page, line by line, without blank lines.
std::vector<std::vector<std::string>> pages_of(const std::string& pdf) {
  std::vector<std::vector<std::string>> pages{{}};
  std::istringstream text{test::run_on("sh -c 'pdftotext -layout \"$0\" -'", pdf).output};
  for (std::string line; std::getline(text, line);) {
    while (!line.empty() && line.front() == '\f') {
      pages.emplace_back();
      line.erase(0, 1);
    }
    if (line.find_first_not_of(' ') != std::string::npos) pages.back().push_back(line);
  }
  return pages;
}

std::string words(int count) {
  std::string text;
  for (int i = 0; i < count; ++i) text += "word" + std::to_string(i) + " ";
  return text;
}

/// Every kind of block that can stand below a heading.
std::vector<Block> kinds() {
  const Timeline timeline = test::elevator_session();
  const Day day = day_of(timeline);
  const Strip strip = strips_for(shown_ranges(day), strips_wanted(day)).front();
  return {Paragraph{words(3)},
          Paragraph{words(34)},
          Paragraph{words(200), Voice::caution},
          Paragraph{"link", Voice::plain, "there"},
          FactList{{{"Name", words(120)}, {"Other", "value"}}},
          Table{"Caption " + words(30), {{"A"}, {words(12)}}, {{words(60), words(90)}, {"a", "b"}}, {}, ""},
          Table{"", {{"A"}}, {}, {}, "Nothing."},
          PictureGrid{{{1, words(70)}, {2, "short"}}},
          DrawnKey{},
          DrawnStrip{layout_of(day, strip), 1, 1}};
}

}  // namespace

TEST_CASE("whatever stands below a heading, the heading never ends a page") {
  for (const Format format : {Format::portrait, Format::landscape}) {
    for (const Block& block : kinds()) {
      CAPTURE(block.index());
      Document document;
      document.format = format;
      document.blocks.push_back(Heading{2, "There", "there"});
      // A page of so many lines, and then the heading: at every height of the page's lower half.
      for (int lines = format == Format::portrait ? 20 : 8; lines < (format == Format::portrait ? 53 : 34); ++lines) {
        document.blocks.push_back(PageBreak{});
        for (int i = 0; i < lines; ++i) document.blocks.push_back(Paragraph{"filler"});
        document.blocks.push_back(Heading{2, "HEADING", ""});
        document.blocks.push_back(Heading{3, "BELOW", ""});
        document.blocks.push_back(block);
      }
      const auto pages = pages_of(pdf_of(document));
      REQUIRE(pages.size() > 30);
      for (const std::vector<std::string>& page : pages) {
        // The last line is the page's number.
        if (page.size() < 2) continue;
        const std::string& last = page[page.size() - 2];
        CHECK(last.find("HEADING") == std::string::npos);
        CHECK(last.find("BELOW") == std::string::npos);
      }
    }
  }
}

/// Where on the page a word begins, as pdftotext has it.
double place_of(const std::string& pdf, const std::string& word) {
  const std::string boxes = test::run_on("sh -c 'pdftotext -bbox \"$0\" -'", pdf).output;
  const std::size_t end = boxes.find(">" + word + "</word>");
  REQUIRE(end != std::string::npos);
  return std::stod(boxes.substr(boxes.rfind("xMin=\"", end) + 6));
}

// Unicode Standard Annex 9: the first strong letter decides the paragraph's direction, unless that is told.
TEST_CASE("our sentences run from left to right even if a name from right to left begins them") {
  const std::string words = "\u05e8\u05d5\u05ea\u05dd first 1.5 h; \u0639\u0644\u064a second 2.5 h";
  Document document;
  document.blocks = {FactList{{{"Hours", words}}}};
  const std::string ours = pdf_of(document);
  CHECK(place_of(ours, "first") < place_of(ours, "second"));
  document.blocks = {FactList{{{"Note", words, Whose::builders}}}};
  const std::string theirs = pdf_of(document);
  CHECK(place_of(theirs, "second") < place_of(theirs, "first"));
}

TEST_CASE("a text that was set once is drawn the same the second time, in its own type and width") {
  const auto type_case = std::make_shared<TypeCase>();
  const auto canvas = Canvas::pdf({200, 200}, {}, type_case);
  Lines first{*canvas};
  Lines second{*canvas};
  first.set("one two three four five six", {9}, 60);
  second.set("one two three four five six", {9}, 60);
  CHECK(first.count() > 1);
  CHECK(first.count() == second.count());
  CHECK(first.height() == second.height());
  second.set("one two three four five six", {9}, 0);
  CHECK(second.count() == 1);
  CHECK(first.count() > 1);
  second.set("one two three four five six", {18}, 60);
  CHECK(second.height() > first.height());
  second.set("one two three four five six", {9, false, false, true}, 0);
  first.set("one two three four five six", {9}, 0);
  CHECK(second.width() > first.width());
}
