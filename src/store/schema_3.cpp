#include "store/schema_private.h"

namespace jigtime::store {

/// The rules a build is shown under lie in the journal itself, and a planned line says how thick the stack is.
std::string to_format_3() {
  return R"sql(
ALTER TABLE build ADD COLUMN regime_text TEXT NOT NULL DEFAULT '';
ALTER TABLE planned ADD COLUMN grip_uin INTEGER CHECK (grip_uin BETWEEN 1 AND 4000000);
)sql";
}

}  // namespace jigtime::store
