#include <doctest/doctest.h>

#include <algorithm>

#include "report/outside.h"
#include "report/page_script.h"
#include "report/report.h"
#include "report/sample_sessions.h"
#include "report/style.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;

namespace {

void check_well_formed(const std::string& page) {
  const test::Outcome outcome = test::run_on("xmllint --noout", page);
  CHECK_MESSAGE(outcome.status == 0, outcome.output.substr(0, 600));
}

/// What Python's own HTML reader makes of the page: tags that would fetch or run something, and elements left open.
std::string judged_by_python(const std::string& page) {
  return test::run_on(
             "/usr/bin/python3 -c '\n"
             "import html.parser, sys\n"
             "void = {\"meta\", \"br\", \"img\", \"link\", \"input\", \"hr\"}\n"
             "class R(html.parser.HTMLParser):\n"
             "    stack = []\n"
             "    def handle_starttag(self, tag, attrs):\n"
             "        if tag == \"script\" and attrs: print(\"script from elsewhere\", attrs)\n"
             "        if tag in {\"link\", \"iframe\", \"object\", \"embed\", \"base\", \"form\"}: "
             "print(\"tag\", tag)\n"
             "        for name, value in attrs:\n"
             "            if name.startswith(\"on\"): print(\"handler\", name)\n"
             "            if name in {\"src\", \"href\", \"xlink:href\", \"data\", \"action\"} and not "
             "value.startswith(\"data:image/jpeg;base64,\"): print(\"reference\", value)\n"
             "        if tag not in void: self.stack.append(tag)\n"
             "    def handle_startendtag(self, tag, attrs): self.handle_starttag(tag, attrs); self.handle_endtag(tag) "
             "if "
             "tag not in void else None\n"
             "    def handle_endtag(self, tag):\n"
             "        if not self.stack or self.stack.pop() != tag: print(\"unbalanced\", tag)\n"
             "r = R()\n"
             "r.feed(open(sys.argv[1], encoding=\"utf-8\").read())\n"
             "r.close()\n"
             "print(\"left open\", r.stack) if r.stack else None\n"
             "'",
             page)
      .output;
}

}  // namespace

TEST_CASE("every page is well-formed XML and balanced HTML that runs and fetches nothing") {
  for (const Timeline& timeline :
       {test::elevator_session(), test::empty_session(), test::long_day(), test::hostile_session()}) {
    const std::string page = to_html(timeline);
    check_well_formed(page);
    CHECK(judged_by_python(page) == "");
    CHECK_FALSE(contains(page, "://"));
    CHECK_FALSE(contains(page, "@import"));
    // Patterns within the page are the only things that url() may name.
    CHECK(count(page, "url(") == count(page, "url(#"));
  }
}

TEST_CASE("the style sheet may stand in XML as it is") {
  CHECK_FALSE(contains(style_sheet, "<"));
  CHECK_FALSE(contains(style_sheet, "&"));
}

TEST_CASE("the page carries what an inspector looks for, in words") {
  const std::string page = to_html(test::elevator_session());
  for (const char* words : {"Heron 2, Saturday, 14 March 2026",
                            "Village workshop, Vale Manso",
                            "XX-HRN",
                            "Ilda Serrano",
                            "Bento Ayoub",
                            "Rivet elevator skin",
                            "sheet 7, step 9",
                            "MS20426AD3-3.5",
                            "dropout",
                            "by its clock only",
                            "± 95 s",
                            "It is silent and its clock stands at a factory date.",
                            "20260314_103500.mov",
                            "Person-hours",
                            "Elapsed hours",
                            "Unfilmed",
                            "Untagged",
                            "It approves nothing",
                            "Reference values only.",
                            "wear hearing and eye protection"}) {
    CAPTURE(words);
    CHECK(contains(page, words));
  }
}

TEST_CASE("an empty session has a sentence in every place, and no drawing") {
  const std::string page = to_html(test::empty_session());
  CHECK_FALSE(contains(page, "<table"));
  CHECK_FALSE(contains(page, "<svg"));
  for (const char* words :
       {"There is nothing to draw", "There are no clips.", "No mark was set", "No span has been tagged",
        "No fastener was set", "there are no hours", "No camera has footage"}) {
    CAPTURE(words);
    CHECK(contains(page, words));
  }
}

TEST_CASE("a still is embedded as it is, a missing or damaged one is said") {
  Timeline timeline = test::elevator_session();
  timeline.stills[{1}] = {0xFF, 0xD8, 0xFF, 0xE0, 0x00};
  timeline.stills[{2}] = {'<', 's', 'v', 'g', '>'};
  timeline.stills[{3}] = {};
  const std::string page = to_html(timeline);
  CHECK(contains(page, "src=\"data:image/jpeg;base64,/9j/4AA=\""));
  CHECK(contains(page, "alt=\"Still of mark M1 at 0:51:20.000: First rivet of the row, gauge shows the head.\""));
  CHECK(count(page, "The still is damaged and is not shown.") == 1);
  CHECK(count(page, "No still.") == 2);
  check_well_formed(page);
}

// CSP level 3, section 6.7.3.4: the script's SHA-256 in base64, worked out by Python.
TEST_CASE("the page's own script is the only one its policy lets run") {
  const std::string page = to_html(test::elevator_session());
  CHECK(count(page, "<script") == 1);
  const std::string hash =
      test::run_on(
          "/usr/bin/python3 -c 'import base64, hashlib, sys\nprint(base64.b64encode(hashlib.sha256("
          "open(sys.argv[1], \"rb\").read()).digest()).decode(), end=\"\")'",
          std::string{page_script})
          .output;
  CHECK(contains(page_policy, "script-src 'sha256-" + hash + "'"));
  CHECK(contains(page_policy, "default-src 'none'"));
  for (const char* unfit : {"<", "&"}) CHECK_FALSE(contains(page_script, unfit));
}

TEST_CASE("hostile names show as they are written and break nothing") {
  const std::string page = to_html(test::hostile_session());
  CHECK(count(page, "<script") == 1);
  CHECK(contains(page, "&lt;script&gt;alert(1)&lt;/script&gt; ]]&gt; &amp; &quot;quoted&quot; &#39;single&#39;"));
  CHECK(contains(page, "broken\xEF\xBF\xBD\xEF\xBF\xBD&lt;b&gt;.mp4"));
}

TEST_CASE("all 300 clips of a long day are in the table") {
  const std::string page = to_html(test::long_day());
  for (const int number : {1000, 1150, 1299}) CHECK(contains(page, "CLIP" + std::to_string(number) + ".MP4"));
  CHECK(count(page, ">by sound\n± 0.50 ms<") == 300);
}

TEST_CASE("ids within the page are used once each") {
  const std::string page = to_html(test::elevator_session());
  std::vector<std::string> ids;
  for (auto at = page.find(" id=\""); at != std::string::npos; at = page.find(" id=\"", at + 1)) {
    ids.push_back(page.substr(at + 5, page.find('"', at + 5) - at - 5));
  }
  CHECK(ids.size() > 10);
  std::sort(ids.begin(), ids.end());
  CHECK(std::adjacent_find(ids.begin(), ids.end()) == ids.end());
}

TEST_CASE("the page says that Jigtime wrote it, in the words by which an export knows its own pages") {
  CHECK(contains(to_html(test::empty_session()), "name=\"generator\" content=\"Jigtime"));
}

TEST_CASE("the same session gives the same bytes") {
  CHECK(to_html(test::elevator_session()) == to_html(test::elevator_session()));
}

TEST_CASE("a record full of nonsense is still written out") {
  Timeline timeline = test::elevator_session();
  timeline.known = {};
  timeline.record.session.date = std::chrono::year_month_day{};
  timeline.record.session.zero = WallTime{farthest};
  for (journal::Clip& clip : timeline.record.clips) clip.parts.clear();
  for (journal::Span& span : timeline.record.spans) std::swap(span.begin, span.end);
  timeline.record.placements[0].pieces[0].session_start = SessionTime{farthest};
  timeline.record.placements[1].pieces[0].session_start = SessionTime{-farthest};
  timeline.record.placements[2].pieces[0].sigma = farthest;
  timeline.record.marks[0].at = SessionTime{-farthest};
  timeline.hours = journal::count_hours(timeline.record);
  const std::string page = to_html(timeline);
  check_well_formed(page);
  CHECK(contains(page, "ends before it begins"));
}
