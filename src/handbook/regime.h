// The rules a build is shown under, as data: what is found and by whom, which records and stage inspections are wanted.
// Must never know: journals, files. Reference only: the authority or its delegate decides.
// Begin reading at: parse_regime. The shape of the text is told at the head of assets/regimes/us.txt.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "handbook/checklist.h"
#include "handbook/source.h"

namespace jigtime::handbook {

struct Fact {
  std::string text;    ///< a whole sentence
  std::string source;  ///< empty only for Seen::memory
  Seen seen = Seen::memory;
  friend bool operator==(const Fact&, const Fact&) = default;
};
/// "Text (source)." with how far the source can be trusted.
std::string to_text(const Fact& fact);

struct StageInspection {
  std::string name;  ///< short; an inspection in a journal refers to it
  Fact fact;
  friend bool operator==(const StageInspection&, const StageInspection&) = default;
};

enum class Share { none, more_than_50, at_least_51 };

struct Regime {
  std::string name;
  std::string title;
  Share share = Share::none;
  std::vector<Fact> findings;  ///< at least one
  std::vector<Fact> tasks;     ///< at least one: what is said about tasks and hours
  std::vector<Fact> records;   ///< at least one
  std::vector<StageInspection> inspections;
  std::vector<Fact> notes;
  friend bool operator==(const Regime&, const Regime&) = default;
};

/// Code::invalid names every bad line and what would do.
Result<Regime> parse_regime(std::string_view text);

/// How a checklist's sum stands to the regime's share, in one sentence with the figures. A count, not a finding.
std::string share_sentence(const Regime& regime, const ChecklistSum& sum);

}  // namespace jigtime::handbook
