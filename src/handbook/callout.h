// Fastener call-outs under their published standards: reading, explaining, writing in one spelling.
// Must never know: the journal, files. Reference values only; plans and kit instructions rule.
// Begin reading at: parse_callout.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::handbook {

enum class HeadStyle {
  flush100,
  universal,
  unknown,  ///< a standard of which only the name is at hand
};
enum class FastenerKind { solid, blind };

struct Callout {
  std::string standard;  ///< as superseded to: "MS20426", "MS20470", "NAS1097", "MS20600" ...
  FastenerKind kind = FastenerKind::solid;
  HeadStyle head = HeadStyle::universal;
  std::string material;  ///< letters as called out: "AD"
  std::string alloy;     ///< "2117-T4"; empty where no source was read
  int diameter_32nds = 0;
  int length_32nds = 0;            ///< solid rivets; half dash lengths are odd numbers
  int grip_16ths = 0;              ///< blind rivets
  std::string stem;                ///< blind rivets: the letter between diameter and grip, "W" or "K"; mostly empty
  std::vector<std::string> notes;  ///< whole sentences: superseded designation, caution on heat treatment ...

  double diameter_in() const { return diameter_32nds / 32.0; }
  double length_in() const { return length_32nds / 32.0; }
  /// The one spelling the journal keeps: "MS20426AD3-4.5", "MS20600AD4W3" ... Reading it gives the same call-out.
  std::string canonical() const;
};

/// Accepts the spellings met in print: blanks or single dashes between the parts, AN, MS and NASM designations, either
/// case. Error code invalid with a message that says which part does not exist and what would ("diameter 0/32 does not
/// exist"); nothing is guessed.
Result<Callout> parse_callout(std::string_view text);

/// Plain sentences: head, alloy, diameter, length or grip, where the length is measured, the notes; the caution last.
std::vector<std::string> explain(const Callout& callout);

/// To be shown wherever a figure of this module is shown.
extern const std::string_view caution;

}  // namespace jigtime::handbook
