#include "actions/spoken.h"

#include "base/piece.h"
#include "base/text.h"

namespace jigtime::actions {

std::string spoken(Length length) {
  const Length size = std::chrono::abs(length);
  const std::string sign = length < Length{0} ? "-" : "";
  if (size < std::chrono::minutes{1}) {
    return sign + to_decimal_text(to_seconds(size), size < std::chrono::seconds{10} ? 2 : 1) + " s";
  }
  const std::int64_t seconds = scaled(size.count(), 1, one_in_ppb);
  if (seconds < 3600) return sign + std::to_string(seconds / 60) + " min " + std::to_string(seconds % 60) + " s";
  if (seconds < 48 * 3600) {
    return sign + std::to_string(seconds / 3600) + " h " + std::to_string(seconds / 60 % 60) + " min";
  }
  return sign + std::to_string(seconds / 86400) + " days";
}

}  // namespace jigtime::actions
