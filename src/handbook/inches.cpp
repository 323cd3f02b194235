#include "handbook/inches.h"

#include <numeric>

#include "base/text.h"

namespace jigtime::handbook {
namespace {

/// Exact: a fraction of a power of two up to 64 ends within six decimals.
std::string exact_decimal(int numerator, int denominator) {
  std::string text = to_decimal_text(static_cast<double>(numerator) / denominator, 6);
  text.erase(text.find_last_not_of('0') + 1);
  return text;
}

}  // namespace

std::string inches_text(int numerator, int denominator) {
  const int whole = numerator / denominator;
  const int rest = numerator % denominator;
  if (rest == 0) return std::to_string(whole) + " in";
  const int common = std::gcd(rest, denominator);
  std::string text = whole == 0 ? "" : std::to_string(whole) + " ";
  text += std::to_string(rest / common) + "/" + std::to_string(denominator / common) + " in";
  return text + " (" + exact_decimal(numerator, denominator) + " in)";
}

std::string mils_text(int mils) {
  const std::string fraction = std::to_string(1000 + mils % 1000).substr(1);
  return (mils < 1000 ? "" : std::to_string(mils / 1000)) + "." + fraction;
}

}  // namespace jigtime::handbook
