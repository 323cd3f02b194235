#include <doctest/doctest.h>

#include "report/outside.h"
#include "report/report.h"

using jigtime::report::html_escaped;

TEST_CASE("what means something in markup is written as an entity") {
  CHECK(html_escaped("<a href=\"x\" b='y'>&amp;]]>") == "&lt;a href=&quot;x&quot; b=&#39;y&#39;&gt;&amp;amp;]]&gt;");
  CHECK(html_escaped("plain, ± 3°") == "plain, ± 3°");
  CHECK(html_escaped("") == "");
}

TEST_CASE("bytes that are no UTF-8 and characters that are no XML become the replacement character") {
  CHECK(html_escaped("a\xFF") == "a\xEF\xBF\xBD");
  CHECK(html_escaped("a\xEF\xBF\xBE") == "a\xEF\xBF\xBD");  // U+FFFE
  CHECK(html_escaped("a\xEF\xBF\xBF") == "a\xEF\xBF\xBD");  // U+FFFF
  CHECK(html_escaped("a\xEF\xBF\xBC") == "a\xEF\xBF\xBC");  // U+FFFC stays
}

TEST_CASE("marks that turn the direction of the text are taken out, right-to-left scripts are kept") {
  CHECK(html_escaped("a\xE2\x80\xAEgpj.exe") == "a\xEF\xBF\xBDgpj.exe");  // U+202E
  CHECK(html_escaped("a\xE2\x81\xA7") == "a");                            // U+2067
  CHECK(html_escaped("\xD7\x90\xD7\x91") == "\xD7\x90\xD7\x91");
}

TEST_CASE("control characters become blanks") { CHECK(html_escaped(std::string_view{"a\x01\x00z\x7F", 5}) == "a  z "); }

TEST_CASE("whatever bytes come in, another program reads the result as well-formed") {
  std::string all;
  for (int first = 0; first < 256; ++first) {
    for (int second = 0; second < 256; second += 5) {
      all += static_cast<char>(first);
      all += static_cast<char>(second);
    }
  }
  const std::string text = html_escaped(all);
  const auto outcome = jigtime::test::run_on(
      "xmllint --noout", "<?xml version=\"1.0\" encoding=\"UTF-8\"?><a b=\"" + text + "\">" + text + "</a>");
  CHECK_MESSAGE(outcome.status == 0, outcome.output.substr(0, 400));
}
