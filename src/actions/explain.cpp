#include "actions/explain.h"

#include <algorithm>

#include "base/text.h"
#include "handbook/blind_sizes.h"
#include "handbook/callout.h"
#include "handbook/diameter.h"
#include "handbook/inches.h"
#include "handbook/length.h"
#include "handbook/noise.h"
#include "handbook/rules_text.h"

namespace jigtime::actions {
namespace {

constexpr double most_grip_in = 4;

std::string inches(int mil) { return to_decimal_text(mil / 1000.0, 3) + " in"; }

/// Every published way of rounding the length, and where the called-out length stands among them; none is chosen.
Result<std::vector<std::string>> solid_grip(const handbook::Callout& callout, double grip_in) {
  const auto lengths = handbook::lengths_for_grip(grip_in, callout.diameter_32nds);
  if (!lengths) return lengths.error();
  std::vector<std::string> sentences = handbook::explain(*lengths);
  const bool named = std::any_of(lengths->candidates.begin(), lengths->candidates.end(),
                                 [&](const auto& candidate) { return candidate.length_32nds == callout.length_32nds; });
  sentences.push_back(named ? "The called-out length is among them."
                            : "The called-out length (" + to_decimal_text(callout.length_in(), 4) +
                                  " in) is none of them: look at the plans again.");
  return sentences;
}

std::vector<std::string> blind_grip(const handbook::Callout& callout, double grip_in) {
  const handbook::BlindSize* size = handbook::find_blind_size(callout.diameter_32nds, callout.grip_16ths);
  if (size == nullptr) return {"The table at hand has no grip range for this size; the maker's sheet does."};
  const bool fits = grip_in * 1000 >= size->grip_min_mil && grip_in * 1000 <= size->grip_max_mil;
  return {"Its grip range is " + inches(size->grip_min_mil) + " to " + inches(size->grip_max_mil) + " (" +
              handbook::to_text(handbook::blind_sizes_source) + ").",
          fits ? "The stated grip lies within it." : "The stated grip lies outside it: look at the plans again."};
}

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
  if (grip_in && solid) {
    auto sentences = solid_grip(*callout, *grip_in);
    if (!sentences) return sentences.error();
    explained.grip = std::move(*sentences);
  } else if (grip_in) {
    explained.grip = blind_grip(*callout, *grip_in);
  }
  explained.rules = handbook::rules_for(*callout);
  std::erase(explained.rules, handbook::caution);
  // Both explanations end with the caution; it is said once, at the very end.
  std::erase(explained.sentences, handbook::caution);
  std::erase(explained.grip, handbook::caution);
  explained.caution = handbook::caution;
  return explained;
}

Result<std::vector<std::string>> explain_sheet(double thickest_sheet_in) {
  const auto rules = handbook::diameters_for_sheet(thickest_sheet_in);
  if (!rules) return rules.error();
  std::vector<std::string> sentences;
  for (const handbook::DiameterRule& rule : *rules) {
    std::string text = "Diameter " + std::string{rule.rule} + ": " + to_decimal_text(rule.least_in, 4) + " in";
    if (rule.most_in <= 0) text += " or more";
    if (rule.most_in > rule.least_in) text += " to " + to_decimal_text(rule.most_in, 4) + " in";
    if (rule.nearest_32nds > 0) text += ", nearest " + handbook::inches_text(rule.nearest_32nds, 32);
    if (rule.next_up_32nds > 0) text += ", next up " + handbook::inches_text(rule.next_up_32nds, 32);
    sentences.push_back(text + " (" + handbook::to_text(rule.source) + ").");
  }
  for (const handbook::DiameterNote& note : handbook::diameter_notes()) {
    sentences.push_back(std::string{note.text.substr(0, note.text.size() - 1)} + " (" + handbook::to_text(note.source) +
                        ").");
  }
  return sentences;
}

Result<NoiseTold> explain_noise(double level_dba, std::optional<double> hours) {
  const auto allowances = handbook::noise_allowances(level_dba);
  if (!allowances) return allowances.error();
  NoiseTold told{level_dba, {}, {}, {}};
  for (const handbook::NoiseAllowance& allowance : *allowances) {
    told.rules.push_back({std::string{allowance.rule}, allowance.hours, handbook::to_text(allowance.source)});
    if (!allowance.note.empty()) told.sentences.emplace_back(allowance.note);
  }
  if (hours) {
    const handbook::Exposure exposure{level_dba, *hours};
    const auto dose = handbook::noise_dose({&exposure, 1});
    if (!dose) return dose.error();
    told.dose_percent = dose->percent;
    told.sentences.push_back("United States: that is " + to_decimal_text(dose->percent, 0) +
                             " % of a day's dose, an average of " + to_decimal_text(dose->average_dba, 1) +
                             " dBA over 8 h (" + handbook::to_text(dose->source) + ").");
  }
  for (const handbook::NoiseNote& note : handbook::noise_notes()) {
    told.sentences.push_back(std::string{note.text.substr(0, note.text.size() - 1)} + " (" +
                             handbook::to_text(note.source) + ").");
  }
  told.sentences.emplace_back(
      "Rules differ from place to place, and none of them keeps every ear whole: wear hearing and eye protection.");
  return told;
}

}  // namespace jigtime::actions
