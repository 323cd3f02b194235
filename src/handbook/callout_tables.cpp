#include "handbook/callout_tables.h"

#include <algorithm>

namespace jigtime::handbook {
namespace {

using std::string_view;

constexpr Source ac43{"FAA AC 43.13-1B, 4-57a", Seen::seen};
constexpr Source navy{"US Navy training manual 14315, Table 3-1", Seen::seen};
constexpr Source blind_install{"MIL-R-47195A (25 Aug 1989), 2.1", Seen::seen};
constexpr Source nas1921{"NAS1921, Table I (scanned copy)", Seen::seen};
constexpr Source course_note{"Canadian course note on solid rivets", Seen::quoted};
constexpr Source memory{"", Seen::memory};

constexpr std::array<string_view, 8> solid_letters{"A", "AD", "B", "D", "DD", "E", "KE", "M"};
constexpr std::array<string_view, 4> pull_stem_letters{"AD", "B", "M", "MP"};             // MP from memory
constexpr std::array<string_view, 3> locked_letters{"B", "C", "M"};                       // NAS1921 Table I
constexpr std::array<string_view, 6> locked_old_letters{"B", "C", "D", "M", "MS", "MW"};  // D met in print, rest memory

// 7/32 is no usual stock size, but a published replacement rule asks for it; which sizes exist is otherwise from
// memory.
constexpr std::array solid_sizes{2, 3, 4, 5, 6, 7, 8, 10, 12};
// 3, 4, 5 and 8 stand in a printed table, 6 is from memory.
constexpr std::array pull_stem_sizes{3, 4, 5, 6, 8};
constexpr std::array locked_sizes{4, 5, 6, 8};  // NAS1921 Table I; assumed for its elder sheets

constexpr auto solid = FastenerKind::solid;
constexpr auto blind = FastenerKind::blind;
constexpr auto flush = HeadStyle::flush100;
constexpr auto universal = HeadStyle::universal;

constexpr string_view locked_grips =
    "The grip number is the largest grip in sixteenths of an inch; the smallest is on the standard's sheet.";

constexpr string_view name_only =
    "Of this standard only the name is at hand (from memory): head, material letters and sizes are on its sheet.";
constexpr string_view bulbed = "bulbed locked-spindle blind rivet";

constexpr StandardSheet bulbed_sheet(string_view name, string_view example) {
  return {name, blind, HeadStyle::unknown, bulbed, name_only, example, {}, pull_stem_sizes, false, memory};
}

constexpr std::array sheets{
    StandardSheet{"MS20426", solid, flush, "solid rivet with a 100° countersunk (flush) head", "", "MS20426AD3-3.5",
                  solid_letters, solid_sizes, false, ac43},
    StandardSheet{"MS20470", solid, universal, "solid rivet with a universal (protruding) head", "", "MS20470AD4-5",
                  solid_letters, solid_sizes, false, ac43},
    StandardSheet{"NAS1097", solid, flush, "solid rivet with a 100° flush head of reduced size",
                  "Not for tension loads (Canadian course note on solid rivets, as quoted elsewhere).", "NAS1097AD4-5",
                  solid_letters, solid_sizes, false, course_note},
    StandardSheet{"MS20600", blind, universal,
                  "structural pull-stem blind rivet, self-plugging, with a protruding head", "", "MS20600AD4W3",
                  pull_stem_letters, pull_stem_sizes, false, blind_install},
    StandardSheet{"MS20601", blind, flush, "structural pull-stem blind rivet, self-plugging, with a 100° flush head",
                  "", "MS20601AD4W3", pull_stem_letters, pull_stem_sizes, false, blind_install},
    StandardSheet{"MS20602",
                  blind,
                  HeadStyle::unknown,
                  "blind rivet",
                  name_only,
                  "MS20602AD4-3",
                  {},
                  pull_stem_sizes,
                  false,
                  memory},
    StandardSheet{"MS20603",
                  blind,
                  HeadStyle::unknown,
                  "blind rivet",
                  name_only,
                  "MS20603AD4-3",
                  {},
                  pull_stem_sizes,
                  false,
                  memory},
    StandardSheet{"MS20604", blind, universal, "pull-stem blind rivet, non-structural, with a protruding head",
                  "What MS20604 covers is from memory: look at its sheet before relying on it.", "MS20604AD4W3",
                  pull_stem_letters, pull_stem_sizes, false, memory},
    StandardSheet{"MS20605", blind, flush, "pull-stem blind rivet, non-structural (class 2), with a 100° flush head",
                  "", "MS20605AD4W3", pull_stem_letters, pull_stem_sizes, false, blind_install},
    StandardSheet{"NAS1398", blind, universal, "locked-spindle blind rivet with a protruding head", locked_grips,
                  "NAS1398D4-3", locked_old_letters, locked_sizes, false, memory},
    StandardSheet{"NAS1399", blind, flush, "locked-spindle blind rivet with a 100° flush head", locked_grips,
                  "NAS1399D4-3", locked_old_letters, locked_sizes, false, memory},
    StandardSheet{"NAS1919", blind, universal, "locked-spindle blind rivet with a protruding head", locked_grips,
                  "NAS1919B04-03", locked_letters, locked_sizes, true, memory},
    StandardSheet{"NAS1921", blind, flush, "locked-spindle blind rivet with a flush head", locked_grips,
                  "NAS1921B04-03", locked_letters, locked_sizes, true, nas1921},
    bulbed_sheet("NAS9301", "NAS9301B4-3"),
    bulbed_sheet("NAS9302", "NAS9302B4-3"),
    bulbed_sheet("NAS9303", "NAS9303B4-3"),
    bulbed_sheet("NAS9304", "NAS9304B4-3"),
    bulbed_sheet("NAS9305", "NAS9305B4-3"),
    bulbed_sheet("NAS9306", "NAS9306B4-3"),
    bulbed_sheet("NAS9307", "NAS9307B4-3"),
    bulbed_sheet("NAS9308", "NAS9308B4-3"),
    bulbed_sheet("NAS9309", "NAS9309B4-3"),
    bulbed_sheet("NAS9310", "NAS9310B4-3"),
    bulbed_sheet("NAS9311", "NAS9311B4-3"),
    bulbed_sheet("NAS9312", "NAS9312B4-3"),
    bulbed_sheet("NAS9313", "NAS9313B4-3"),
    bulbed_sheet("NAS9314", "NAS9314B4-3"),
    bulbed_sheet("NAS9315", "NAS9315B4-3"),
    bulbed_sheet("NAS9316", "NAS9316B4-3"),
};

constexpr string_view superseded = "is superseded by";
constexpr string_view present_day = "is the present-day name of";

constexpr std::array other_names{
    OtherName{"AN426", "MS20426", superseded, ac43},        OtherName{"AN470", "MS20470", superseded, ac43},
    OtherName{"NASM20426", "MS20426", present_day, memory}, OtherName{"NASM20470", "MS20470", present_day, memory},
    OtherName{"NASM1097", "NAS1097", present_day, memory},  OtherName{"NASM20600", "MS20600", present_day, memory},
    OtherName{"NASM20601", "MS20601", present_day, memory}, OtherName{"NASM20602", "MS20602", present_day, memory},
    OtherName{"NASM20603", "MS20603", present_day, memory}, OtherName{"NASM20604", "MS20604", present_day, memory},
    OtherName{"NASM20605", "MS20605", present_day, memory},
};

constexpr string_view icebox =
    "It is heat-treated before driving: drive within 20 minutes of the quench, or keep it at 32 °F or below for up to "
    "24 hours (US Navy training manual 14315, page 3-2).";

constexpr std::array letters{
    MaterialLetter{solid, "A", "1100-F", "", "a plain head", "For non-structural use only (FAA AC 43.13-1B, 7-2c).",
                   navy},
    MaterialLetter{solid, "AD", "2117-T4", "", "one dimple in the head", "", navy},
    MaterialLetter{solid, "B", "5056-H32", "", "a raised cross on the head",
                   "Used in magnesium parts (FAA AC 43.13-1B, 7-2d).", navy},
    MaterialLetter{solid, "D", "2017-T4", "", "one raised dot on the head", icebox, navy},
    MaterialLetter{solid, "DD", "2024-T4", "", "two raised dashes on the head", icebox, navy},
    MaterialLetter{solid, "E", "", "7050-T73", "a raised ring on the head",
                   "What letter E stands for is from memory: look at the standard's sheet.", memory},
    MaterialLetter{solid, "KE", "", "7050-T73", "a raised ring on the head",
                   "What letters KE stand for is from memory: look at the standard's sheet.", memory},
    MaterialLetter{solid, "M", "", "nickel-copper alloy", "two dimples in the head",
                   "What letter M stands for is from memory: look at the standard's sheet.", memory},
    MaterialLetter{blind, "AD", "", "2117 sleeve", "", "", memory},
    MaterialLetter{blind, "B", "", "5056 sleeve", "", "", memory},
    MaterialLetter{blind, "C", "", "A-286 sleeve", "", "", memory},
    MaterialLetter{blind, "D", "", "2017 sleeve", "", "", memory},
    MaterialLetter{blind, "M", "", "nickel-copper sleeve", "", "", memory},
    MaterialLetter{blind, "MP", "", "nickel-copper sleeve, plated", "", "", memory},
    MaterialLetter{blind, "MS", "", "nickel-copper sleeve, silver plated", "", "", memory},
    MaterialLetter{blind, "MW", "", "nickel-copper sleeve, cadmium plated", "", "", memory},
};

/// For NAS1921 the letters were read in its own table.
constexpr std::array nas1921_letters{
    MaterialLetter{blind, "B", "5056", "", "", "", nas1921},
    MaterialLetter{blind, "C", "A-286", "", "", "", nas1921},
    MaterialLetter{blind, "M", "nickel-copper", "", "", "", nas1921},
};

template <class Rows, class Fits>
auto find_row(const Rows& rows, Fits fits) -> decltype(rows.data()) {
  const auto at = std::find_if(rows.begin(), rows.end(), fits);
  return at == rows.end() ? nullptr : &*at;
}

}  // namespace

const StandardSheet* find_sheet(string_view name) {
  return find_row(sheets, [&](const StandardSheet& row) { return row.name == name; });
}

const OtherName* find_other_name(string_view spelling) {
  return find_row(other_names, [&](const OtherName& row) { return row.spelling == spelling; });
}

const MaterialLetter* find_letter(FastenerKind kind, string_view standard, string_view wanted) {
  if (standard == "NAS1921") {
    return find_row(nas1921_letters, [&](const MaterialLetter& row) { return row.letters == wanted; });
  }
  return find_row(letters, [&](const MaterialLetter& row) { return row.kind == kind && row.letters == wanted; });
}

std::span<const StandardSheet> all_sheets() { return sheets; }
std::span<const OtherName> all_other_names() { return other_names; }

}  // namespace jigtime::handbook
