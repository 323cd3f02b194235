#include "handbook/blind_sizes.h"
#include "handbook/callout.h"
#include "handbook/callout_tables.h"
#include "handbook/inches.h"

namespace jigtime::handbook {
namespace {

std::string head_sentence(const Callout& callout) {
  const StandardSheet* sheet = find_sheet(callout.standard);
  if (sheet == nullptr) return callout.canonical() + ".";
  return callout.canonical() + ": " + std::string{sheet->about} + " (" + to_text(sheet->source) + ").";
}

std::string material_sentence(const Callout& callout) {
  const MaterialLetter* row = find_letter(callout.kind, callout.standard, callout.material);
  if (row == nullptr) return "Material " + callout.material + ".";
  std::string text = "Material " + callout.material + ": " + std::string{row->alloy.empty() ? row->memory : row->alloy};
  if (!row->head_mark.empty()) text += ", known by " + std::string{row->head_mark};
  return text + " (" + to_text(row->source) + ").";
}

std::string length_sentence(const Callout& callout) {
  const std::string where = callout.head == HeadStyle::flush100 ? "over all, head included" : "from under the head";
  return "Length " + inches_text(callout.length_32nds, 32) + ", measured " + where +
         " (a how-to page and notes on NAS523, as quoted elsewhere).";
}

void add_grip_sentences(const Callout& callout, std::vector<std::string>& sentences) {
  sentences.push_back("Grip number " + std::to_string(callout.grip_16ths) + ": the largest grip is " +
                      inches_text(callout.grip_16ths, 16) + " (a maker's process manual, seen).");
  const BlindSize* size = find_blind_size(callout.diameter_32nds, callout.grip_16ths);
  if (size == nullptr) {
    sentences.emplace_back(
        "The smallest grip and the hole are not in the table at hand: look at the standard's sheet.");
    return;
  }
  sentences.push_back("One printed table gives grips from " + mils_text(size->grip_min_mil) + " to " +
                      mils_text(size->grip_max_mil) + " in, holes from " + mils_text(size->hole_min_mil) + " to " +
                      mils_text(size->hole_max_mil) + " in, drill " + std::string{size->drill} + " (" +
                      to_text(blind_sizes_source) + ").");
}

}  // namespace

std::vector<std::string> explain(const Callout& callout) {
  std::vector<std::string> sentences{head_sentence(callout), material_sentence(callout),
                                     "Diameter " + inches_text(callout.diameter_32nds, 32) + "."};
  if (callout.kind == FastenerKind::solid) {
    sentences.push_back(length_sentence(callout));
  } else {
    add_grip_sentences(callout, sentences);
  }
  sentences.insert(sentences.end(), callout.notes.begin(), callout.notes.end());
  sentences.emplace_back(caution);
  return sentences;
}

}  // namespace jigtime::handbook
