#include "app/view/abridged.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace jigtime::app;

namespace {

/// Ten pixels a letter, however many bytes it takes.
float wide(std::string_view text) {
  return 10.0F * static_cast<float>(std::count_if(text.begin(), text.end(), [](char c) {
           return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
         }));
}

}  // namespace

TEST_CASE("what fits is left as it is") {
  CHECK(cut_at_end("Rivet", 50, wide) == "Rivet");
  CHECK(cut_in_middle("Rivet", 50, wide) == "Rivet");
  CHECK(cut_path("/a/b.jigtime", 120, wide) == "/a/b.jigtime");
  CHECK(cut_in_middle("", 0, wide).empty());
}

TEST_CASE("a name that is cut in the middle keeps its begin and its end") {
  CHECK(cut_in_middle("MS20426AD3-3.5", 110, wide) == "MS20...-3.5");
  CHECK(cut_in_middle("MS20426AD3-3.5", 100, wide) == "MS20...3.5");
  CHECK(cut_at_end("Rivet the upper skin", 100, wide) == "Rivet t...");
}

TEST_CASE("no letter of several bytes is cut in two") {
  CHECK(cut_at_end("\xC3\xA4\xC3\xB6\xC3\xBC\xC3\x9F", 40, wide) == "\xC3\xA4\xC3\xB6\xC3\xBC\xC3\x9F");
  CHECK(cut_at_end("\xC3\xA4\xC3\xB6\xC3\xBC\xC3\x9F\xC3\xA9", 40, wide) == "\xC3\xA4...");
  CHECK(cut_in_middle("\xC3\xA4\xC3\xB6\xC3\xBC\xC3\x9F\xC3\xA9\xC3\xA8", 50, wide) == "\xC3\xA4...\xC3\xA8");
}

TEST_CASE("the last name of a path stays whole while there is room for it") {
  const std::string_view path = "/home/somebody/builds/2026/elevator.jigtime";
  CHECK(cut_path(path, 300, wide) == "/home/some.../elevator.jigtime");
  CHECK(cut_path(path, 200, wide) == ".../elevator.jigtime");
  CHECK(cut_path(path, 120, wide) == "eleva...time");
  CHECK(cut_path("a-file-without-a-folder", 100, wide) == "a-fi...der");
}

TEST_CASE("where not one letter fits nothing is written") {
  CHECK(cut_at_end("Rivet", 20, wide).empty());
  CHECK(cut_in_middle("Rivet", 20, wide).empty());
  CHECK(cut_path("/long/name", 20, wide).empty());
}
