#include <cstdlib>
#include <string_view>

#include "handbook/checklist.h"

// Whatever a file holds: a list that reads back as itself and splits each point whole, or an error that says something.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto list = jigtime::handbook::parse_checklist({reinterpret_cast<const char*>(data), size});
  if (!list) {
    if (list.error().message().empty()) std::abort();
    return 0;
  }
  const auto again = jigtime::handbook::parse_checklist(to_text(*list));
  if (!again || !(*again == *list)) std::abort();
  const auto sum = jigtime::handbook::sum_of(list->rows);
  if (sum.total() != 10 * sum.rows) std::abort();
  return 0;
}
