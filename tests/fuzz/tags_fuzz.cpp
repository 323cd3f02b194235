#include <cstdlib>
#include <string_view>

#include "actions/tagging.h"

// Whatever a table holds: spans that know their line, or an error that says something.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto spans = jigtime::actions::read_tags({reinterpret_cast<const char*>(data), size});
  if (!spans && spans.error().message().empty()) std::abort();
  if (spans) {
    for (const auto& span : *spans) {
      if (span.line < 2) std::abort();
    }
  }
  return 0;
}
