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

Hit::Kind kind_of(std::int64_t kind) {
  switch (kind) {
    case search_span: return Hit::Kind::span;
    case search_mark: return Hit::Kind::mark;
    case search_item: return Hit::Kind::item;
    case search_inspection: return Hit::Kind::inspection;
    case search_photo: return Hit::Kind::photo;
    case search_session: return Hit::Kind::session;
    default: return Hit::Kind::entry;
  }
}

Hit hit_of(const Query& row) {
  Hit hit;
  hit.kind = kind_of(row.integer(0));
  if (!row.is_null(1)) hit.session = row.id<journal::SessionId>(1);
  if (!row.is_null(2)) hit.begin = row.point<SessionTime>(2);
  switch (row.integer(0)) {
    case search_entry: hit.text = "Entry " + std::to_string(row.integer(3)) + ": " + one_line(row.text(5)); break;
    case search_amendment:
      hit.text = "Amendment " + std::to_string(row.integer(3)) + ": " + one_line(row.text(4));
      break;
    default: hit.text = one_line(row.text(4)); break;
  }
  return hit;
}

constexpr const char* find_rows = R"sql(
WITH hit AS (
  SELECT rowid % 16 AS kind, rowid / 16 AS id, rowid AS row, body, snippet(search, 0, '', '', ' ... ', 24) AS words,
    rank AS place
  FROM search WHERE search MATCH ?1 ORDER BY rank, rowid LIMIT ?2)
SELECT hit.kind,
  CASE hit.kind
    WHEN 0 THEN span.session WHEN 1 THEN mark.session WHEN 2 THEN item.session WHEN 3 THEN entry.session
    WHEN 4 THEN inspection.session WHEN 5 THEN photo.session WHEN 6 THEN hit.id WHEN 7 THEN amendment.session END,
  CASE hit.kind
    WHEN 0 THEN span.begin_ns WHEN 1 THEN mark.at_ns WHEN 2 THEN item.at_ns WHEN 4 THEN inspection.at_ns
    WHEN 5 THEN photo.at_ns END,
  coalesce(entry.number, amendment.number), hit.body, hit.words
FROM hit
LEFT JOIN span ON hit.kind = 0 AND span.id = hit.id
LEFT JOIN mark ON hit.kind = 1 AND mark.id = hit.id
LEFT JOIN item ON hit.kind = 2 AND item.id = hit.id
LEFT JOIN entry ON hit.kind = 3 AND entry.id = hit.id
LEFT JOIN inspection ON hit.kind = 4 AND inspection.id = hit.id
LEFT JOIN photo ON hit.kind = 5 AND photo.id = hit.id
LEFT JOIN amendment ON hit.kind = 7 AND amendment.id = hit.id
ORDER BY hit.place, hit.row
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
