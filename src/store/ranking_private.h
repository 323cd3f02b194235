// How often the words of a search occur in each of its hits, told without looking at the texts.
// Must never know: what the texts are of.
// Begin reading at: teach_occurrences.
#pragma once

#include <cstdint>

#include "store/database_private.h"

namespace jigtime::store {

/// Makes `occurrences(search)` known to this connection: an integer with four bits for each word of the query, the
/// first word lowest; 15 stands for 15 and more, and words behind the fifteenth are left out. Throws SQLite::Exception.
void teach_occurrences(Database& database);

/// How good a text is, above 0: every word's count, the less the more there are of it, and the less the longer the text
/// is beside the mean of those it is compared with. The formula is that of BM25 (Robertson and Zaragoza, "The
/// Probabilistic Relevance Framework", 2009, with k1 = 1.2 and b = 0.75 as is common), without the weight of rare
/// words: every hit has all of them. A `length` of 0 leaves the length out (b = 0).
double worth(std::int64_t occurrences, double length, double mean_length);

}  // namespace jigtime::store
