#include "handbook/noise.h"

#include <array>
#include <cmath>

namespace jigtime::handbook {
namespace {

struct NoiseRule {
  std::string_view name;
  double limit_dba;  ///< allowed for eight hours
  double step_db;    ///< halves the time
  std::string_view note;
  Source source;
};

constexpr std::array rules{
    NoiseRule{"United States, 29 CFR 1910.95: 90 dBA for 8 h, 5 dB halves",
              90,
              5,
              "Its table ends at 115 dBA, a quarter of an hour or less.",
              {"29 CFR 1910.95, Appendix A", Seen::seen}},
    NoiseRule{"NIOSH recommendation: 85 dBA for 8 h, 3 dB halves", 85, 3, "", {"NIOSH criteria", Seen::quoted}},
    NoiseRule{"Canada, federal: 87 dBA for 8 h, 3 dB halves",
              87,
              3,
              "The European limit is 87 dB(A) too (Directive 2003/10/EC, as quoted elsewhere).",
              {"Canadian federal directive, table", Seen::seen}},
};

}  // namespace

Result<std::vector<NoiseAllowance>> noise_allowances(double level_dba) {
  if (!(level_dba >= 60 && level_dba <= 140)) {
    return Error{Code::invalid, "The level must be between 60 and 140 dBA, as read from a sound level meter."};
  }
  std::vector<NoiseAllowance> allowances;
  for (const NoiseRule& rule : rules) {
    allowances.push_back(
        {rule.name, 8 / std::exp2((level_dba - rule.limit_dba) / rule.step_db), rule.note, rule.source});
  }
  return allowances;
}

}  // namespace jigtime::handbook
