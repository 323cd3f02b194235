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
              "United States: the table ends at 115 dBA, a quarter of an hour or less.",
              {"29 CFR 1910.95, Appendix A", Seen::seen}},
    NoiseRule{"NIOSH recommendation: 85 dBA for 8 h, 3 dB halves", 85, 3, "", {"NIOSH criteria", Seen::quoted}},
    NoiseRule{"Canada, federal: 87 dBA for 8 h, 3 dB halves",
              87,
              3,
              "The European limit is 87 dB(A) too (Directive 2003/10/EC, as quoted elsewhere).",
              {"Canadian federal directive, table", Seen::seen}},
};

constexpr Source appendix_a{"29 CFR 1910.95, Appendix A", Seen::seen};

constexpr std::array notes{
    NoiseNote{"United States: a hearing programme begins at an average of 85 dBA, half the dose.",
              {"29 CFR 1910.95(c)", Seen::memory}},
    NoiseNote{"United States: impulses are limited to a peak of 140 dB.", {"29 CFR 1910.95(b)", Seen::seen}},
    NoiseNote{"European Union: action values are 80 and 85 dB(A), the limit is 87 dB(A).",
              {"Directive 2003/10/EC", Seen::quoted}},
    NoiseNote{"Measured in a sheet-metal trade: up to 114 dBA, impacts with peaks of 120 to 125 dB.",
              {"Noise exposure of workers in the sheet metal construction trade, 1975, abstract", Seen::seen}},
};

bool in_workshop(double level_dba) { return level_dba >= 60 && level_dba <= 140; }

Error no_such_level() {
  return Error{Code::invalid, "The level must be between 60 and 140 dBA, as read from a sound level meter."};
}

/// T = 8 / 2^((L - 90) / 5).
double allowed_hours(double level_dba, double limit_dba, double step_db) {
  return 8 / std::exp2((level_dba - limit_dba) / step_db);
}

}  // namespace

Result<std::vector<NoiseAllowance>> noise_allowances(double level_dba) {
  if (!in_workshop(level_dba)) return no_such_level();
  std::vector<NoiseAllowance> allowances;
  for (const NoiseRule& rule : rules) {
    allowances.push_back({rule.name, allowed_hours(level_dba, rule.limit_dba, rule.step_db), rule.note, rule.source});
  }
  return allowances;
}

Result<NoiseDose> noise_dose(std::span<const Exposure> exposures) {
  double total_hours = 0;
  double parts = 0;
  for (const Exposure& exposure : exposures) {
    if (!in_workshop(exposure.level_dba)) return no_such_level();
    if (!(exposure.hours > 0)) return Error{Code::invalid, "The hours at a level must be above 0."};
    total_hours += exposure.hours;
    parts += exposure.hours / allowed_hours(exposure.level_dba, 90, 5);
  }
  if (!(total_hours > 0 && total_hours <= 24)) {
    return Error{Code::invalid, "A dose is that of one day: the hours must be above 0 and at most 24 in all."};
  }
  return NoiseDose{100 * parts, 16.61 * std::log10(parts) + 90, appendix_a};
}

std::span<const NoiseNote> noise_notes() { return notes; }

}  // namespace jigtime::handbook
