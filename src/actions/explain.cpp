#include "actions/explain.h"

#include "handbook/callout.h"

namespace jigtime::actions {
namespace {

constexpr double most_grip_in = 4;

}  // namespace

Result<Explained> explain_callout(std::string_view text, std::optional<double> grip_in) {
  const auto callout = handbook::parse_callout(text);
  if (!callout) return callout.error();
  if (grip_in && !(*grip_in > 0 && *grip_in <= most_grip_in)) {
    return Error{Code::invalid, "The grip is the whole stack in inches, above 0 and at most 4."};
  }
  Explained explained;
  explained.canonical = callout->canonical();
  const bool solid = callout->kind == handbook::FastenerKind::solid;
  explained.kind = solid ? "solid" : "blind";
  explained.diameter_in = callout->diameter_in();
  if (solid) explained.length_in = callout->length_in();
  explained.sentences = handbook::explain(*callout);
  explained.caution = handbook::caution;
  return explained;
}

}  // namespace jigtime::actions
