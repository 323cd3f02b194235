#include "store/schema_private.h"

namespace jigtime::store {

namespace {

constexpr std::string_view steps_4 = R"sql(
ALTER TABLE session ADD COLUMN zero_fixed INTEGER NOT NULL DEFAULT 0
  CHECK (zero_fixed IN (0, 1) AND (zero_fixed = 0 OR zero_ns IS NOT NULL));
ALTER TABLE placement ADD COLUMN tied INTEGER NOT NULL DEFAULT 0 CHECK (tied IN (0, 1));
UPDATE build SET id = id;
UPDATE person SET id = id;
UPDATE assembly SET id = id;
UPDATE task SET id = id;
UPDATE planned SET id = id;
UPDATE session SET id = id;
UPDATE span SET id = id;
UPDATE placement SET clip = clip;
CREATE TABLE tie (
  id INTEGER PRIMARY KEY, clip_a INTEGER NOT NULL REFERENCES clip ON DELETE CASCADE,
  at_a_ns INTEGER NOT NULL CHECK (at_a_ns >= 0), clip_b INTEGER NOT NULL REFERENCES clip ON DELETE CASCADE,
  at_b_ns INTEGER NOT NULL CHECK (at_b_ns >= 0), CHECK (clip_a <> clip_b)
) STRICT;
CREATE INDEX tie_clip_a ON tie (clip_a);
CREATE INDEX tie_clip_b ON tie (clip_b);
)sql";

constexpr Owner owners_4[] = {{"tie", "(SELECT session FROM clip WHERE id = ROW.clip_a)"}};

}  // namespace

/// When a session began may be the builder's own word, which no line-up changes. What older journals hold was told by
/// clocks, as far as anybody can tell.
/// Two clips may be tied by hand, and a placement says whether it is by a tie.
/// Rows from before a column was added are shorter than their table, and a change set takes what they lack for NULL: to
/// delete such a row could not be undone. They are written anew, as they are.
std::string to_format_4() { return std::string{steps_4} + seal_triggers(owners_4); }

}  // namespace jigtime::store
