// Full-text search over everything written.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "journal/values.h"
#include "store/database_private.h"
#include "store/store.h"

namespace jigtime::store {

/// Of more hits than this, those are ranked in which the words occur most often; where they occur as often, what is no
/// span before spans, then what was written later. A common word of a hundred thousand texts need not be weighed in
/// every one of them.
inline constexpr std::size_t most_ranked = 1000;

/// Throws what Query throws. Best first, as `worth` of ranking_private.h tells.
std::vector<Hit> search(Database& database, std::string_view text, int most);
/// An entry never changes, so it is written here once and no trigger follows it.
void make_findable(Database& database, journal::EntryId id, const journal::Entry& entry);
/// Any text as a query: each word quoted, as a prefix, all of them wanted. Empty when there is no word.
std::string as_query(std::string_view text);

}  // namespace jigtime::store
