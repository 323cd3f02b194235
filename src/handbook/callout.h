// Fastener call-outs under their published standards: reading, explaining, writing in one spelling.
// Must never know: the journal, files. Reference values only; plans and kit instructions rule.
// Begin reading at: parse_callout.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::handbook {

enum class HeadStyle { flush100, universal };
enum class FastenerKind { solid, blind };

struct Callout {
  std::string standard;  ///< as superseded to: "MS20426", "MS20470", "NAS1097", "MS20600" ...
  FastenerKind kind = FastenerKind::solid;
  HeadStyle head = HeadStyle::universal;
  std::string material;  ///< letters as called out: "AD"
  std::string alloy;     ///< "2117-T4"; empty where not known from a source
  int diameter_32nds = 0;
  int length_32nds = 0;            ///< solid rivets; half dash lengths are odd numbers
  int grip_16ths = 0;              ///< blind rivets
  std::vector<std::string> notes;  ///< e.g. superseded designation, caution on heat treatment

  double diameter_in() const { return diameter_32nds / 32.0; }
  double length_in() const { return length_32nds / 32.0; }
  /// The one spelling the journal keeps: "MS20426AD3-4.5", "MS20600AD4W3" ...
  std::string canonical() const;
};

/// Accepts all spellings of shared trade practice (blanks, dashes, AN/MS/NASM, either case). Error code invalid with a
/// message that says which part does not exist and what would ("diameter 0/32 does not exist").
Result<Callout> parse_callout(std::string_view text);

/// Plain sentences: head, alloy, diameter, length, where the length is measured, cautions.
std::vector<std::string> explain(const Callout& callout);

extern const std::string_view caution;  ///< reference values only ...

}  // namespace jigtime::handbook
