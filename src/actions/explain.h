// A call-out explained, and checked against a grip.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::actions {

struct Explained {
  std::string canonical;
  std::string kind;  ///< "solid" or "blind"
  double diameter_in = 0;
  double length_in = 0;                ///< solid rivets; 0 otherwise
  std::vector<std::string> sentences;  ///< what it is
  std::vector<std::string> grip;   ///< what the rules of thumb say for the grip, each with its source; decides nothing
  std::vector<std::string> rules;  ///< holes, heads, spacing, shear of one rivet, each with its source; decides nothing
  std::string caution;
};

/// Which diameters the published rules of thumb name for a sheet, each with its source; decides nothing. Code::invalid
/// for a sheet that is not above 0 and at most half an inch.
Result<std::vector<std::string>> explain_sheet(double thickest_sheet_in);

/// `grip_in`: whole stack in inches, above 0 and at most 4.
Result<Explained> explain_callout(std::string_view text, std::optional<double> grip_in);

struct NoiseTold {
  struct Rule {
    std::string rule;
    double hours = 0;
    std::string source;
  };
  double level_dba = 0;
  std::vector<Rule> rules;             ///< they differ: all are told
  std::optional<double> dose_percent;  ///< of the United States' rule, where hours were given
  std::vector<std::string> sentences;
};
/// A level read from a sound level meter, and for how long. A camera's level is none and is never used.
Result<NoiseTold> explain_noise(double level_dba, std::optional<double> hours);

}  // namespace jigtime::actions
