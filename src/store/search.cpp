#include <algorithm>

#include "base/text.h"
#include "journal/seal.h"
#include "store/query_private.h"
#include "store/schema.h"
#include "store/search_private.h"

namespace jigtime::store {
namespace {

/// Lines of a search row become one line of text.
std::string one_line(const std::string& body) {
  std::string text;
  for (const std::string& line : split(body, '\n')) {
    const std::string_view words = trimmed(line);
    if (words.empty()) continue;
    if (!text.empty()) text += "; ";
    text += words;
  }
  return text;
}

Hit hit_of(const Query& row) {
  Hit hit;
  hit.session = row.id<journal::SessionId>(1);
  if (!row.is_null(2)) hit.begin = row.point<SessionTime>(2);
  switch (row.integer(0)) {
    case search_span: hit.kind = Hit::Kind::span; break;
    case search_mark: hit.kind = Hit::Kind::mark; break;
    default: hit.kind = Hit::Kind::entry; break;
  }
  const bool entry = hit.kind == Hit::Kind::entry;
  hit.text = entry ? "Entry " + std::to_string(row.integer(3)) + ": " + one_line(row.text(5)) : one_line(row.text(4));
  return hit;
}

constexpr const char* find_rows = R"sql(
SELECT search.rowid % 4, coalesce(span.session, mark.session, entry.session), coalesce(span.begin_ns, mark.at_ns),
  entry.number, search.body, snippet(search, 0, '', '', ' ... ', 24)
FROM search
LEFT JOIN span ON search.rowid % 4 = 0 AND span.id = search.rowid / 4
LEFT JOIN mark ON search.rowid % 4 = 1 AND mark.id = search.rowid / 4
LEFT JOIN entry ON search.rowid % 4 = 3 AND entry.id = search.rowid / 4
WHERE search MATCH ?1 ORDER BY rank, search.rowid LIMIT ?2
)sql";

}  // namespace

std::string as_query(std::string_view text) {
  std::string query;
  std::string words = to_utf8(text);
  std::replace(words.begin(), words.end(), '\n', ' ');
  std::replace(words.begin(), words.end(), '\t', ' ');
  for (const std::string& word : split(words, ' ')) {
    if (word.empty()) continue;
    query += query.empty() ? "\"" : " \"";
    for (const char c : word) query += c == '"' ? std::string{"\"\""} : std::string{c};
    query += "\"*";
  }
  return query;
}

std::vector<Hit> search(Database& database, std::string_view text, int most) {
  std::vector<Hit> hits;
  const std::string query = as_query(text);
  if (query.empty() || most <= 0) return hits;
  Query row{database, find_rows};
  row.with(std::string_view{query}, most);
  while (row.next()) hits.push_back(hit_of(row));
  return hits;
}

void make_findable(Database& database, journal::EntryId id, const journal::Entry& entry) {
  Query{database, "INSERT INTO search (rowid, body) VALUES (?1, ?2)"}
      .with(id.value * search_kinds + search_entry, std::string_view{journal::written_words(entry.text)})
      .run();
}

}  // namespace jigtime::store
