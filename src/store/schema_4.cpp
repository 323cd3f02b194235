#include "store/schema_private.h"

namespace jigtime::store {

/// When a session began may be the builder's own word, which no line-up changes. What older journals hold was told by
/// clocks, as far as anybody can tell.
/// Rows from before a column was added are shorter than their table, and a change set takes what they lack for NULL: to
/// delete such a row could not be undone. They are written anew, as they are.
std::string to_format_4() {
  return R"sql(
ALTER TABLE session ADD COLUMN zero_fixed INTEGER NOT NULL DEFAULT 0
  CHECK (zero_fixed IN (0, 1) AND (zero_fixed = 0 OR zero_ns IS NOT NULL));
UPDATE build SET id = id;
UPDATE person SET id = id;
UPDATE assembly SET id = id;
UPDATE task SET id = id;
UPDATE planned SET id = id;
UPDATE session SET id = id;
UPDATE span SET id = id;
)sql";
}

}  // namespace jigtime::store
