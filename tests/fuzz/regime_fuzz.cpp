#include <cstdlib>
#include <string_view>

#include "handbook/regime.h"

// Whatever a file holds: a regime whose facts can be told, or an error that says something.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto regime = jigtime::handbook::parse_regime({reinterpret_cast<const char*>(data), size});
  if (!regime) {
    if (regime.error().message().empty()) std::abort();
    return 0;
  }
  for (const auto& fact : regime->findings) {
    if (to_text(fact).empty()) std::abort();
  }
  if (share_sentence(*regime, {}).empty()) std::abort();
  return 0;
}
