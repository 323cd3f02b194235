#include <cstdlib>

#include "base/text.h"
#include "media/photo.h"

// Whatever a photo's file begins with: words that are UTF-8 and a time within reach, or an error that says something.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto info = jigtime::media::read_photo_head({data, size});
  if (!info) {
    if (info.error().message().empty()) std::abort();
    return 0;
  }
  if (!jigtime::is_utf8(info->device)) std::abort();
  if (info->taken && (!jigtime::within_reach(info->taken->since_epoch) || !jigtime::is_utf8(info->taken->text)))
    std::abort();
  return 0;
}
