// What the standards of the call-outs say: names, heads, material letters, sizes. Each row with its source.
// Must never know: how a call-out is spelled out or explained.
// Begin reading at: StandardSheet.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "handbook/callout.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct StandardSheet {
  std::string_view name;  ///< "MS20426"
  FastenerKind kind = FastenerKind::solid;
  HeadStyle head = HeadStyle::universal;
  std::string_view about;  ///< what kind of fastener, ends a sentence
  std::string_view note;   ///< a whole sentence for the builder, or empty
  std::string_view example;
  std::span<const std::string_view> letters;  ///< material letters that exist under it; empty: not known, any will do
  std::span<const int> diameters_32nds;
  bool two_digits = false;  ///< diameter and grip written 04-03
  Source source;
};

/// Another designation that means one of the sheets.
struct OtherName {
  std::string_view spelling;  ///< "AN426"
  std::string_view name;      ///< "MS20426"
  std::string_view why;       ///< "is superseded by", "is the present-day name of"
  Source source;
};

struct MaterialLetter {
  FastenerKind kind = FastenerKind::solid;
  std::string_view letters;
  std::string_view alloy;      ///< with its temper as supplied; empty where no source was read
  std::string_view memory;     ///< the alloy as remembered, where `alloy` is empty
  std::string_view head_mark;  ///< empty where not known
  std::string_view note;       ///< a whole sentence, or empty
  Source source;
};

/// Nothing (nullptr) when there is no such sheet, name or letter.
const StandardSheet* find_sheet(std::string_view name);
const OtherName* find_other_name(std::string_view spelling);
const MaterialLetter* find_letter(FastenerKind kind, std::string_view standard, std::string_view letters);

std::span<const StandardSheet> all_sheets();
std::span<const OtherName> all_other_names();

}  // namespace jigtime::handbook
