#include "store/schema_private.h"

namespace jigtime::store {

/// When a session began may be the builder's own word, which no line-up changes. What older journals hold was told by
/// clocks, as far as anybody can tell.
std::string to_format_4() {
  return R"sql(
ALTER TABLE session ADD COLUMN zero_fixed INTEGER NOT NULL DEFAULT 0
  CHECK (zero_fixed IN (0, 1) AND (zero_fixed = 0 OR zero_ns IS NOT NULL));
)sql";
}

}  // namespace jigtime::store
