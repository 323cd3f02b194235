#include "report/markup.h"

#include <doctest/doctest.h>

using jigtime::report::Markup;

TEST_CASE("elements are closed innermost first, the last ones when the text is handed over") {
  Markup page;
  page.open("p").open("b").text("x");
  CHECK(page.finish() == "<p><b>x</b></p>\n");
  CHECK(page.finish() == "");
}

TEST_CASE("text and attribute values cannot leave their place") {
  Markup page;
  page.element("p", "</p><script>", {{"title", "\" onload=\"x"}});
  CHECK(page.finish() == "<p title=\"&quot; onload=&quot;x\">&lt;/p&gt;&lt;script&gt;</p>\n");
}

TEST_CASE("an empty element keeps its end tag, a leaf has none") {
  Markup page;
  page.element("td", "").leaf("br", {});
  CHECK(page.finish() == "<td></td>\n<br/>\n");
}

TEST_CASE("closing more than was opened changes nothing") {
  Markup page;
  page.open("p").close().close();
  CHECK(page.finish() == "<p></p>\n");
}
