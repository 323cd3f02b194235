#include <cstdlib>
#include <string_view>

#include "media/probe.h"

// Whatever a file is called: no clock, or one within reach.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto reading = jigtime::media::clock_in_name({reinterpret_cast<const char*>(data), size});
  if (reading && !jigtime::within_reach(reading->since_epoch)) std::abort();
  return 0;
}
