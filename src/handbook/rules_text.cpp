#include "handbook/rules_text.h"

#include <cmath>

#include "base/text.h"
#include "handbook/blind_sizes.h"
#include "handbook/factory_head.h"
#include "handbook/formed_head.h"
#include "handbook/holes.h"
#include "handbook/inches.h"
#include "handbook/repair.h"
#include "handbook/shear.h"
#include "handbook/spacing.h"

namespace jigtime::handbook {
namespace {

std::string with_source(const std::string& text, const Source& source) { return text + " (" + to_text(source) + ")."; }

/// Four places: the halves and tenths of a thirty-second then need hardly any rounding.
std::string inches(double value) { return to_decimal_text(value, 4); }

/// "0.1875 in wide", "0.1625 in wide or more", "0.1600 to 0.2100 in wide".
std::string range_text(double least, double most, std::string_view what) {
  const std::string unit = " in " + std::string{what};
  if (most <= 0) return inches(least) + unit + " or more";
  // Customary values are one size; the difference of two of them is nothing but arithmetic.
  if (most - least < 1e-9) return inches(least) + unit;
  return inches(least) + " to " + inches(most) + unit;
}

/// Ten-thousandths as ".1285", and ".098" where the last place is nothing.
std::string hole_text(int ten_thousandths) {
  std::string text = to_decimal_text(ten_thousandths / 10'000.0, 4).substr(1);
  if (text.back() == '0') text.pop_back();
  return text;
}

void tell_holes(const Callout& callout, std::vector<std::string>& sentences) {
  const bool blind = callout.kind == FastenerKind::blind;
  bool told = false;
  for (const HoleRow& row : holes_for(callout.diameter_32nds)) {
    const bool is_blind_row = row.what.substr(0, 5) == "blind";
    if (is_blind_row != blind) continue;
    std::string text = "Hole, " + std::string{row.what} + ": " + hole_text(row.hole_min);
    if (row.hole_max != row.hole_min) text += " to " + hole_text(row.hole_max);
    text += " in";
    if (!row.drill.empty()) text += ", drill " + std::string{row.drill};
    sentences.push_back(with_source(text, row.source));
    told = true;
  }
  if (!told) {
    const std::string size = inches_text(callout.diameter_32nds, 32);
    sentences.push_back("No table at hand gives a hole for " + size.substr(0, size.find(" (")) + ".");
  }
}

void tell_heads(const Callout& callout, std::vector<std::string>& sentences) {
  for (const HeadBand& band : formed_heads_for(callout.diameter_32nds)) {
    const std::string wide = range_text(band.diameter_min_in, band.diameter_max_in, "wide");
    const std::string high = range_text(band.height_min_in, band.height_max_in, "high");
    sentences.push_back(with_source("Formed head, " + std::string{band.rule} + ": " + wide + ", " + high, band.source));
  }
}

std::string diameters_text(double diameters, double diameter_in) {
  const std::string count = to_decimal_text(diameters, diameters - static_cast<int>(diameters) > 0 ? 1 : 0);
  return inches(diameters * diameter_in) + " in (" + count + " D)";
}

bool speaks_of(const SpacingRule& rule, HeadStyle head) {
  if (rule.when == "flush head") return head == HeadStyle::flush100;
  if (rule.when == "protruding head") return head == HeadStyle::universal;
  return true;
}

void tell_spacing(const Callout& callout, std::vector<std::string>& sentences) {
  const double d = callout.diameter_in();
  for (const SpacingRule& rule : spacing_rules()) {
    if (!speaks_of(rule, callout.head)) continue;
    std::string text{to_text(rule.what)};
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
    if (!rule.when.empty()) text += ", " + std::string{rule.when};
    text += ": ";
    if (rule.least_diameters > 0) text += diameters_text(rule.least_diameters, d);
    if (rule.least_diameters > 0 && rule.most_diameters > 0) text += " to ";
    if (rule.most_diameters > 0) text += diameters_text(rule.most_diameters, d);
    if (rule.most_diameters <= 0) text += " or more";
    if (rule.least_diameters <= 0) text += " at most";
    sentences.push_back(with_source(text, rule.source));
  }
}

void tell_factory_head(const Callout& callout, std::vector<std::string>& sentences) {
  if (callout.standard != "MS20426") return;
  const FlushHead* head = find_flush_head(callout.diameter_32nds);
  if (head == nullptr) return;
  sentences.push_back(with_source("Manufactured head: " + mils_text(head->width_mil) + " in wide, " +
                                      mils_text(head->height_mil) + " in high, for drawing and not for acceptance",
                                  head->source));
}

std::string without_stop(std::string_view sentence) { return std::string{sentence.substr(0, sentence.size() - 1)}; }

void tell_repair(const Callout& callout, std::vector<std::string>& sentences) {
  const int larger = next_larger_32nds(callout.diameter_32nds);
  sentences.push_back(with_source("A damaged hole takes the next larger rivet, " + inches_text(larger, 32) +
                                      ", if edge distance and spacing still hold",
                                  next_larger_source));
  sentences.push_back(
      with_source("Oversize holes and countersinks together are at most 20 % of the rivets or 10 in one "
                  "pattern, the smaller",
                  oversize_source));
  const auto stand_in = replacement_for(callout.material, callout.diameter_32nds);
  if (!stand_in || !*stand_in) return;
  std::string text =
      "It may be replaced by " + (*stand_in)->letters + " of " + inches_text((*stand_in)->diameter_32nds, 32);
  if (!(*stand_in)->note.empty()) text += "; " + without_stop((*stand_in)->note);
  sentences.push_back(with_source(text, (*stand_in)->source));
}

void tell_shear(const Callout& callout, std::vector<std::string>& sentences) {
  for (const ShearStrength& strength : shear_strengths()) {
    if (strength.letters != callout.material) continue;
    for (const ShearRow& row : listed_shear()) {
      if (row.diameter_32nds != callout.diameter_32nds) continue;
      const auto pounds = single_shear_lb(strength.letters, row.hole_in);
      if (!pounds) continue;
      sentences.push_back(
          "Single shear of one rivet, for checking a printed table only: " + to_decimal_text(*pounds, 0) +
          " lb in a hole of " + hole_text(static_cast<int>(std::lround(row.hole_in * 10'000))) + " in, from " +
          std::to_string(strength.ksi) + " ksi (strength: " + to_text(strength.source) +
          "; hole: " + to_text(row.source) + "). No joint is judged by it.");
    }
  }
}

}  // namespace

std::vector<std::string> rules_for(const Callout& callout) {
  std::vector<std::string> sentences;
  tell_holes(callout, sentences);
  if (callout.kind == FastenerKind::solid) {
    tell_factory_head(callout, sentences);
    tell_heads(callout, sentences);
    tell_spacing(callout, sentences);
    tell_repair(callout, sentences);
    tell_shear(callout, sentences);
    for (const HoleRule& rule : hole_rules()) sentences.push_back(with_source(without_stop(rule.text), rule.source));
  } else {
    for (const BlindNote& note : blind_notes()) {
      sentences.push_back(with_source(without_stop(note.text), note.source));
    }
  }
  sentences.emplace_back(caution);
  return sentences;
}

}  // namespace jigtime::handbook
