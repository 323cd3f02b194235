#include <cstdlib>
#include <string_view>

#include "base/text.h"

// A time that is read and written again is the same to the millisecond; text made harmless is UTF-8.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  if (const auto time = jigtime::parse_clock_text(text)) {
    const auto again = jigtime::parse_clock_text(jigtime::to_clock_text(*time));
    if (!again || std::chrono::abs(*again - *time) > std::chrono::microseconds{500}) std::abort();
  }
  if (!jigtime::is_utf8(jigtime::to_utf8(text))) std::abort();
  return 0;
}
