// The tables of the journal file, as steps from an empty file to the newest format.
// Must never know: the record's values.
// Begin reading at: migrations.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace jigtime::store {

/// In the file's header (offset 68): tells a journal from any other SQLite database. "JigT" in ASCII.
inline constexpr std::int64_t application_id = 0x4A696754;

/// Step n turns format n into format n + 1. A step is never changed once it has been released.
const std::vector<std::string>& migrations();

/// The tables whose rows are the record, parents before children; what the history follows.
const std::vector<std::string_view>& record_tables();

/// What a trigger says when it refuses a change to a sealed session or to an entry.
inline constexpr std::string_view sealed_signal = "jigtime: sealed";

/// A row of the search table is numbered: the row it describes, times `search_kinds`, plus one of these.
inline constexpr std::int64_t search_kinds = 16;
inline constexpr std::int64_t search_span = 0;
inline constexpr std::int64_t search_mark = 1;
inline constexpr std::int64_t search_item = 2;
inline constexpr std::int64_t search_entry = 3;
inline constexpr std::int64_t search_inspection = 4;
inline constexpr std::int64_t search_photo = 5;
inline constexpr std::int64_t search_session = 6;
inline constexpr std::int64_t search_amendment = 7;

}  // namespace jigtime::store
