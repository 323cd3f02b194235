#include "handbook/factory_head.h"

#include <algorithm>
#include <array>

namespace jigtime::handbook {
namespace {

constexpr Source nas1921{"NAS1921, Table I (scanned copy); the same head as MS20426 as far as remembered", Seen::seen};

constexpr std::array heads{
    FlushHead{3, 179, 36, {"MS20426", Seen::memory}},
    FlushHead{4, 225, 42, nas1921},
    FlushHead{5, 286, 55, nas1921},
    FlushHead{6, 353, 70, nas1921},
    FlushHead{8, 476, 95, nas1921},
};

}  // namespace

const FlushHead* find_flush_head(int diameter_32nds) {
  const auto at = std::find_if(heads.begin(), heads.end(),
                               [&](const FlushHead& head) { return head.diameter_32nds == diameter_32nds; });
  return at == heads.end() ? nullptr : &*at;
}

std::span<const FlushHead> all_flush_heads() { return heads; }

}  // namespace jigtime::handbook
