#include "handbook/callout.h"

#include <doctest/doctest.h>

#include <vector>

#include "handbook/callout_tables.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::handbook;

namespace {

bool any_contains(const std::vector<std::string>& texts, std::string_view part) {
  for (const std::string& text : texts) {
    if (contains(text, part)) return true;
  }
  return false;
}

}  // namespace

// The grammar and the vectors: FAA AC 43.13-1B 4-57a (seen), US Navy training manual 14315 page 3-2 and Table 3-1
// (seen), course notes on rivet codes (the spellings). Sizes in inches are arithmetic on them.
TEST_CASE("each spelling met in print is read as the rivet it names") {
  struct Row {
    const char* text;
    HeadStyle head;
    const char* alloy;
    double diameter_in;
    double length_in;
    const char* canonical;
  };
  const Row rows[] = {
      {"MS20426AD4-5", HeadStyle::flush100, "2117", 0.125, 0.3125, "MS20426AD4-5"},
      {"AN470AD3-5", HeadStyle::universal, "2117", 0.09375, 0.3125, "MS20470AD3-5"},
      {"AN426DD3-5", HeadStyle::flush100, "2024", 0.09375, 0.3125, "MS20426DD3-5"},
      {"MS20470 AD4-3.5", HeadStyle::universal, "2117", 0.125, 0.21875, "MS20470AD4-3.5"},
      {"AN470-AD4-5", HeadStyle::universal, "2117", 0.125, 0.3125, "MS20470AD4-5"},
      {"AN470AD-4-5", HeadStyle::universal, "2117", 0.125, 0.3125, "MS20470AD4-5"},
      {"MS20426-AD4-5", HeadStyle::flush100, "2117", 0.125, 0.3125, "MS20426AD4-5"},
      {"MS20470A4-5", HeadStyle::universal, "1100", 0.125, 0.3125, "MS20470A4-5"},
      {"MS20470D5-6", HeadStyle::universal, "2017", 0.15625, 0.375, "MS20470D5-6"},
      {"MS20426AD3-3.5", HeadStyle::flush100, "2117", 0.09375, 0.21875, "MS20426AD3-3.5"},
      {"NASM20426AD3-4.5", HeadStyle::flush100, "2117", 0.09375, 0.28125, "MS20426AD3-4.5"},
      {"  ms20426ad3 - 4,5 ", HeadStyle::flush100, "2117", 0.09375, 0.28125, "MS20426AD3-4.5"},
      {"MS-20426-AD-3-4.5", HeadStyle::flush100, "2117", 0.09375, 0.28125, "MS20426AD3-4.5"},
      {"MS20426AD3–4.5", HeadStyle::flush100, "2117", 0.09375, 0.28125, "MS20426AD3-4.5"},
      {"NAS1097AD4-5", HeadStyle::flush100, "2117", 0.125, 0.3125, "NAS1097AD4-5"},
      {"MS20470B4-5", HeadStyle::universal, "5056", 0.125, 0.3125, "MS20470B4-5"},
      {"MS20470AD12-64", HeadStyle::universal, "2117", 0.375, 4.0, "MS20470AD12-64"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto callout = parse_callout(row.text);
    REQUIRE_MESSAGE(callout.ok(), (callout.ok() ? std::string{} : callout.error().message()));
    CHECK(callout->kind == FastenerKind::solid);
    CHECK(callout->head == row.head);
    CHECK(contains(callout->alloy, row.alloy));
    CHECK(callout->diameter_in() == doctest::Approx(row.diameter_in).epsilon(1e-12));
    CHECK(callout->length_in() == doctest::Approx(row.length_in).epsilon(1e-12));
    CHECK(callout->canonical() == row.canonical);
  }
}

// MS20600, MS20601 and MS20605: MIL-R-47195A 2.1 (seen). NAS1921 dash numbers: its Table I (seen). MS20604, NAS1398 and
// the stem letters are from memory, so no outside check stands behind those rows.
TEST_CASE("blind rivets carry a grip number instead of a length") {
  struct Row {
    const char* text;
    HeadStyle head;
    int diameter_32nds;
    int grip_16ths;
    const char* stem;
    const char* canonical;
  };
  const Row rows[] = {
      {"MS20600AD4W3", HeadStyle::universal, 4, 3, "W", "MS20600AD4W3"},
      {"ms20600-ad4-w3", HeadStyle::universal, 4, 3, "", nullptr},
      {"MS20600AD4-3", HeadStyle::universal, 4, 3, "", "MS20600AD4-3"},
      {"MS20601-B5K6", HeadStyle::flush100, 5, 6, "K", "MS20601B5K6"},
      {"NASM20605AD4W3", HeadStyle::flush100, 4, 3, "W", "MS20605AD4W3"},
      {"NAS1398D4-3", HeadStyle::universal, 4, 3, "", "NAS1398D4-3"},
      {"NAS1921B04-03", HeadStyle::flush100, 4, 3, "", "NAS1921B04-03"},
      {"NAS1921M5-12", HeadStyle::flush100, 5, 12, "", "NAS1921M05-12"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto callout = parse_callout(row.text);
    if (row.canonical == nullptr) {
      CHECK_FALSE(callout.ok());
      continue;
    }
    REQUIRE_MESSAGE(callout.ok(), (callout.ok() ? std::string{} : callout.error().message()));
    CHECK(callout->kind == FastenerKind::blind);
    CHECK(callout->head == row.head);
    CHECK(callout->diameter_32nds == row.diameter_32nds);
    CHECK(callout->grip_16ths == row.grip_16ths);
    CHECK(callout->stem == row.stem);
    CHECK(callout->canonical() == row.canonical);
  }
}

// NAS9301 to NAS9316, MS20602 and MS20603: their names are from memory, so no outside check stands behind them.
TEST_CASE("a blind rivet of which only the standard's name is known is kept as written, and said") {
  for (const char* text : {"NAS9301B-4-3", "NAS9316M5-8", "MS20602AD4-3", "NASM20603B5W4"}) {
    CAPTURE(text);
    const auto callout = parse_callout(text);
    REQUIRE_MESSAGE(callout.ok(), (callout.ok() ? std::string{} : callout.error().message()));
    CHECK(callout->kind == FastenerKind::blind);
    CHECK(callout->head == HeadStyle::unknown);
    CHECK(any_contains(callout->notes, "only the name is at hand (from memory)"));
    CHECK(any_contains(callout->notes, "was not checked"));
    CHECK(parse_callout(callout->canonical())->canonical() == callout->canonical());
  }
}

TEST_CASE("material letters are taken longest first") {
  CHECK(parse_callout("MS20470A4-5")->material == "A");
  CHECK(parse_callout("MS20470AD4-5")->material == "AD");
  CHECK(parse_callout("MS20470D4-5")->material == "D");
  CHECK(parse_callout("MS20470DD4-5")->material == "DD");
  CHECK(parse_callout("MS20470KE4-5")->material == "KE");
}

TEST_CASE("call-outs that differ in one part stay different") {
  const char* texts[] = {"MS20470AD4-5", "MS20470AD5-4",   "MS20470D4-5",   "MS20470DD4-5",
                         "MS20426AD4-5", "MS20470AD4-5.5", "MS20470AD4-4.5"};
  for (const char* a : texts) {
    for (const char* b : texts) {
      if (a != b) CHECK(parse_callout(a)->canonical() != parse_callout(b)->canonical());
    }
  }
}

TEST_CASE("the canonical spelling of every sheet, letter and size reads back as itself") {
  int tried = 0;
  for (const StandardSheet& sheet : all_sheets()) {
    for (const std::string_view letters : sheet.letters) {
      for (const int diameter : sheet.diameters_32nds) {
        for (const int size : {1, 2, 3, 9, 10, 25}) {
          Callout made;
          made.standard = sheet.name;
          made.kind = sheet.kind;
          made.material = letters;
          made.diameter_32nds = diameter;
          made.length_32nds = size;
          made.grip_16ths = size;
          if (sheet.kind == FastenerKind::solid && size == 1) continue;
          const auto read = parse_callout(made.canonical());
          CAPTURE(made.canonical());
          REQUIRE(read.ok());
          CHECK(read->canonical() == made.canonical());
          ++tried;
        }
      }
    }
  }
  CHECK(tried > 500);
}

TEST_CASE("each sheet's example can be read") {
  for (const StandardSheet& sheet : all_sheets()) {
    const auto read = parse_callout(sheet.example);
    CAPTURE(sheet.example);
    REQUIRE(read.ok());
    CHECK(read->standard == sheet.name);
  }
}

TEST_CASE("what does not exist is refused, and the message says which part and what would do") {
  struct Row {
    const char* text;
    const char* fragment;
  };
  const Row rows[] = {
      {"", "is empty; write it like MS20470AD4-5"},
      {"   ", "is empty"},
      {"MS20426AD4", "the length (sixteenths of an inch) is missing"},
      {"MS20426AD45", "if 4/32 was meant, write MS20426AD4-5"},
      {"MS20426AD4-", "the length (sixteenths of an inch) is missing"},
      {"MS20470ZZ4-5", "material ZZ does not exist under MS20470; it has A, AD, B, D, DD, E, KE and M"},
      {"MS20470-4-5", "the material letters are missing after MS20470"},
      {"MS20470A D4-5", "the diameter (thirty-seconds of an inch) is missing after MS20470A"},
      {"MS20470AD4-3.25", "length 3.25 does not exist; besides whole sixteenths there is only 3.5"},
      {"MS20470AD4-3.", "length 3. does not exist"},
      {"MS20470AD4-3.55", "there is only 3.5"},
      {"MS20470AD4-.5", "the length (sixteenths of an inch) is missing"},
      {"AN470AD0-5", "diameter 0/32 does not exist"},
      {"AN470AD1-5", "it has 2, 3, 4, 5, 6, 7, 8, 10 and 12 thirty-seconds"},
      {"AN470AD40-5", "diameter 40/32 does not exist"},
      {"MS20470AD3.5-5", "diameter 3.5/32 does not exist under MS20470; it has 2, 3, 4"},
      {"MS20470AD3,5-5", "diameter 3.5/32 does not exist"},
      {"MS20470AD3.5", "diameter 3.5/32 does not exist"},
      {"NAS9303B9-4", "diameter 9/32 does not exist under NAS9303"},
      {"NAS9303B9-4", "from memory: look at its sheet"},
      {"NAS9317B4-4", "standard NAS9317 is not in the handbook"},
      {"NAS9303ABC4-4", "material ABC does not exist under NAS9303; it has one or two"},
      {"NAS93034-4", "standard NAS93034 is not in the handbook"},
      {"AN470AD-5", "the length (sixteenths of an inch) is missing"},
      {"AN470AD", "the diameter (thirty-seconds of an inch) is missing after MS20470AD"},
      {"MS20470AD4-0", "length 0/16 does not exist"},
      {"MS20470AD4-0.5", "length 0.5/16 does not exist"},
      {"MS20470AD4-65", "lengths run from 1 to 64"},
      {"MS20470AD4-99999999999999999999", "does not exist"},
      {"MS20470AD4--5", "two dashes before the length"},
      {"MS20470--AD4-5", "the material letters are missing"},
      {"MS20470AD4-5A", "\"A\" is not understood there"},
      {"MS20470AD4-5-5", "\"-5\" is not understood there"},
      {"MS20470AD4-1 2", "\"2\" is not understood there"},
      {"MS20470AD4 5", "\"5\" is not understood there"},
      {"AN430AD4-5", "standard AN430 is not in the handbook, which has AN426, AN470, MS20426"},
      {"MS2047AD4-5", "standard MS2047 is not in the handbook"},
      {"470AD4-5", "does not name a standard, so the head is unknown"},
      {"AD4-5", "\"AD\" does not name a standard"},
      {"BJ4-5", "it stands for MS20470AD, write that"},
      {"BB3-4", "it stands for MS20426AD, write that"},
      {"MS20600AD4", "the grip number is missing"},
      {"MS20600AD43", "if 4/32 was meant, write MS20600AD4-3"},
      {"MS20600AD4X3", "\"X\" after the diameter does not exist; a dash, W or K can stand there"},
      {"MS20600AD4-0", "grip number 0 does not exist"},
      {"MS20600AD4-2.5", "\".5\" is not understood there"},
      {"MS20600DD4-2", "material DD does not exist under MS20600"},
      {"NAS1921B03-02", "diameter 03/32 does not exist under NAS1921"},
      {"\xff\xfe", "does not name a standard"},
      {"MS20470\xC3\x84"
       "4-5",
       "the material letters are missing"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto callout = parse_callout(row.text);
    REQUIRE_FALSE(callout.ok());
    CHECK(callout.error().code() == Code::invalid);
    CHECK_MESSAGE(contains(callout.error().message(), row.fragment), callout.error().message());
  }
}

TEST_CASE("a refusal of hostile text stays short, on one line and well-formed") {
  const auto callout = parse_callout("MS20470\nAD4\xff-" + std::string(5000, '9'));
  REQUIRE_FALSE(callout.ok());
  CHECK(callout.error().message().size() < 300);
  CHECK_FALSE(contains(callout.error().message(), "\n"));
  CHECK_FALSE(contains(callout.error().message(), "\xff"));
}

TEST_CASE("no byte anywhere in a call-out makes the reader fall over") {
  const std::string whole = "MS20470AD4-3.5";
  for (std::size_t at = 0; at < whole.size(); ++at) {
    for (int byte = 0; byte < 256; ++byte) {
      std::string text = whole;
      text[at] = static_cast<char>(byte);
      const auto callout = parse_callout(text);
      if (callout.ok()) CHECK(parse_callout(callout->canonical()).ok());
    }
    static_cast<void>(parse_callout(whole.substr(0, at)));
  }
}

TEST_CASE("a superseded designation is read and said") {
  CHECK(any_contains(parse_callout("AN470AD4-5")->notes, "AN470 is superseded by MS20470 (FAA AC 43.13-1B, 4-57a)"));
  CHECK(any_contains(parse_callout("NASM20470AD4-5")->notes,
                     "NASM20470 is the present-day name of MS20470 (from memory"));
  CHECK(parse_callout("MS20470AD4-5")->notes.empty());
}

TEST_CASE("what the builder must know about a material is in the notes") {
  CHECK(any_contains(parse_callout("MS20470DD4-5")->notes, "20 minutes of the quench"));
  CHECK(any_contains(parse_callout("MS20470D4-5")->notes, "20 minutes of the quench"));
  CHECK(any_contains(parse_callout("MS20470A4-5")->notes, "non-structural"));
  CHECK(any_contains(parse_callout("NAS1097AD4-5")->notes, "Not for tension loads"));
  CHECK(any_contains(parse_callout("MS20470M4-5")->notes, "from memory"));
  CHECK(any_contains(parse_callout("MS20470AD2-3")->notes, "No rivet under 3/32 in"));
  CHECK(any_contains(parse_callout("MS20470AD7-5")->notes, "no usual stock size"));
}

TEST_CASE("a length that looks like a forgotten point is kept as written, and said") {
  const auto callout = parse_callout("MS20426AD3-35");
  CHECK(callout->length_32nds == 70);
  CHECK(any_contains(callout->notes, "if a half length was meant, write 3.5"));
  CHECK(parse_callout("MS20426AD3-15")->notes.empty());
}

TEST_CASE("an alloy is named only where a source was read") {
  CHECK(parse_callout("MS20470KE4-5")->alloy.empty());
  CHECK(parse_callout("MS20600AD4W3")->alloy.empty());
  CHECK(parse_callout("NAS1921B04-03")->alloy == "5056");
}
