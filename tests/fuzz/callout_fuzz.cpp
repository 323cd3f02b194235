#include <cstdlib>
#include <string_view>

#include "handbook/callout.h"

// Whatever is typed: an answer or an error, and what is understood reads back as itself.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  const auto callout = jigtime::handbook::parse_callout(text);
  if (!callout) return 0;
  const auto again = jigtime::handbook::parse_callout(callout->canonical());
  if (!again || again->canonical() != callout->canonical()) std::abort();
  if (jigtime::handbook::explain(*callout).empty()) std::abort();
  return 0;
}
