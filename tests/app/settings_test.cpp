#include "app/view/settings.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace jigtime::app;

TEST_CASE("settings come back as they were written") {
  Settings settings;
  settings.paper = Paper::light;
  settings.scale_percent = 175;
  settings.width = 1600;
  settings.copies_gb = 7;
  settings.journals = {"/home/a/Marten: serial 7.jigtime", "/b.jigtime"};
  CHECK(read_settings(write_settings(settings)) == settings);
}

TEST_CASE("broken settings never stop the window: what is bad is passed over") {
  const Settings usual;
  for (const char* text : {"", "\n\n:", "scale_percent: 5000", "scale_percent: ten",
                           "width: -3\nheight: 99999999999999999999", "paper", "\xFF\xFE\x00"}) {
    CAPTURE(text);
    CHECK(read_settings(text) == usual);
  }
  CHECK(read_settings("scale_percent: 5000\ncopies_gb: 3").copies_gb == 3);
}

TEST_CASE("the journal opened last stands first, once, and the list stays short") {
  Settings settings;
  for (int i = 0; i < 20; ++i) remember(settings, "/j" + std::to_string(i));
  remember(settings, "/j15");
  CHECK(settings.journals.size() == most_journals);
  CHECK(settings.journals.front() == "/j15");
  CHECK(std::count(settings.journals.begin(), settings.journals.end(), "/j15") == 1);
}

TEST_CASE("a file name with a line break is not remembered rather than written wrongly") {
  Settings settings;
  settings.journals = {"/a\nscale_percent: 200"};
  CHECK(read_settings(write_settings(settings)).scale_percent == 100);
}

TEST_CASE("text grows and shrinks in steps within its bounds") {
  CHECK(next_scale(100, 1) == 110);
  CHECK(next_scale(125, -1) == 110);
  CHECK(next_scale(130, 1) == 150);
  CHECK(next_scale(200, 1) == 200);
  CHECK(next_scale(100, -1) == 100);
}
