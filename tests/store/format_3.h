// What made a journal of format 3 out of one of format 2, as the program of that time did it, and what was done in it
// then. Never changed.
#pragma once

#include <string_view>

namespace jigtime::test {

// clang-format off
inline constexpr std::string_view format_3_step = R"sql(
ALTER TABLE build ADD COLUMN regime_text TEXT NOT NULL DEFAULT '';
ALTER TABLE planned ADD COLUMN grip_uin INTEGER CHECK (grip_uin BETWEEN 1 AND 4000000);
)sql";

/// The edit in it noted "Warm." on the second session and gave the planned line its grip.
inline constexpr std::string_view format_3_rows = R"sql(
UPDATE build SET regime_text = 'jigtime regime 1';
UPDATE session SET note = 'Warm.' WHERE id = 2;
UPDATE planned SET grip_uin = 64000;
INSERT INTO edit VALUES (2, 6, 'note', x'540601000000000073657373696f6e0017000100000000000000020000000300000000000003055761726d2e0054050100000000706c616e6e6564001700010000000000000001000000050000000001000000000000fa00', 'ana', 'edit', NULL);
PRAGMA user_version = 3;
)sql";
// clang-format on

}  // namespace jigtime::test
