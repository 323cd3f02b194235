#include "handbook/length.h"

#include <cmath>
#include <cstdint>

#include "base/text.h"
#include "handbook/callout.h"
#include "handbook/inches.h"

namespace jigtime::handbook {
namespace {

constexpr Source navy{"US Navy training manual 14018, rivet selection, rule 8", Seen::seen};
constexpr Source army{"US Army TM 10-5410-229-13&P, 5-6", Seen::seen};
constexpr Source course_note{"Canadian course note on solid rivets", Seen::quoted};
constexpr Source half_lengths{"the same rule with the half lengths of FAA AC 43.13-1B, 4-57a(4)", Seen::computed};

// Millionths of an inch: all fractions of an inch down to 1/64 and every grip as written are whole numbers of them.
constexpr std::int64_t one_16th = 62'500;
constexpr std::int64_t one_32nd = 31'250;

std::int64_t rounded_up(std::int64_t value, std::int64_t step) { return (value + step - 1) / step; }

}  // namespace

Result<LengthsForGrip> lengths_for_grip(double grip_in, int diameter_32nds) {
  if (!(grip_in > 0 && grip_in <= 4)) {
    return Error{Code::invalid,
                 "The grip must be above 0 and at most 4 inches: it is the thickness of the whole stack."};
  }
  if (diameter_32nds < 2 || diameter_32nds > 12) {
    return Error{Code::invalid, "A rivet's diameter is 2 to 12 thirty-seconds of an inch, not " +
                                    std::to_string(diameter_32nds) + "."};
  }
  const std::int64_t wanted = std::llround(grip_in * 1e6) + 3 * one_32nd * diameter_32nds / 2;
  const auto nearest = static_cast<int>((wanted + one_16th / 2) / one_16th);
  const auto next_whole = static_cast<int>(rounded_up(wanted, one_16th));
  const auto next_half = static_cast<int>(rounded_up(wanted, one_32nd));
  LengthsForGrip lengths{static_cast<double>(wanted) * 1e-6, static_cast<double>(wanted) / one_16th, {}, {}, navy};
  lengths.candidates = {{"nearest whole sixteenth", nearest * 2, course_note},
                        {"next whole sixteenth up", next_whole * 2, army},
                        {"next half length up", next_half, half_lengths}};
  if (wanted % one_16th == 0) {
    lengths.notes.emplace_back(
        "The sum is a standard length itself. The manuals that round up say \"greater than the sum\", which taken word "
        "for word is one number more.");
  } else if (wanted % one_16th == one_16th / 2) {
    lengths.notes.emplace_back("The sum lies midway between two whole lengths; the upper one is named as the nearest.");
  }
  return lengths;
}

std::vector<std::string> explain(const LengthsForGrip& lengths) {
  std::vector<std::string> sentences;
  sentences.push_back("Grip plus one and a half diameters is " + to_decimal_text(lengths.wanted_in, 4) +
                      " in, that is " + to_decimal_text(lengths.wanted_16ths, 2) + " sixteenths (" +
                      to_text(lengths.source) + ").");
  for (const LengthCandidate& candidate : lengths.candidates) {
    const std::string dash =
        "-" + std::to_string(candidate.length_32nds / 2) + (candidate.length_32nds % 2 ? ".5" : "");
    sentences.push_back("By the " + std::string{candidate.rule} + ": " + dash + ", " +
                        inches_text(candidate.length_32nds, 32) + " (" + to_text(candidate.source) + ").");
  }
  sentences.insert(sentences.end(), lengths.notes.begin(), lengths.notes.end());
  sentences.emplace_back("Published rules round differently: the plans decide.");
  sentences.emplace_back(caution);
  return sentences;
}

}  // namespace jigtime::handbook
