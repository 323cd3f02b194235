#include <algorithm>
#include <map>

#include "base/text.h"
#include "journal/seal.h"
#include "store/query_private.h"
#include "store/ranking_private.h"
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

Hit hit_of(const Query& row, const std::string& words) {
  Hit hit;
  hit.kind = kind_of(row.integer(0));
  if (!row.is_null(1)) hit.session = row.id<journal::SessionId>(1);
  if (!row.is_null(2)) hit.begin = row.point<SessionTime>(2);
  if (row.integer(0) == search_entry) hit.text = "Entry " + std::to_string(row.integer(3)) + ": ";
  if (row.integer(0) == search_amendment) hit.text = "Amendment " + std::to_string(row.integer(3)) + ": ";
  hit.text += one_line(words);
  return hit;
}

constexpr const char* matches = "SELECT rowid, occurrences(search) FROM search WHERE search MATCH ?1";

constexpr const char* one_row = R"sql(
WITH hit AS (SELECT rowid % 16 AS kind, rowid / 16 AS id, body FROM search WHERE rowid = ?1)
SELECT hit.kind,
  CASE hit.kind
    WHEN 0 THEN span.session WHEN 1 THEN mark.session WHEN 2 THEN item.session WHEN 3 THEN entry.session
    WHEN 4 THEN inspection.session WHEN 5 THEN photo.session WHEN 6 THEN hit.id WHEN 7 THEN amendment.session END,
  CASE hit.kind
    WHEN 0 THEN span.begin_ns WHEN 1 THEN mark.at_ns WHEN 2 THEN item.at_ns WHEN 4 THEN inspection.at_ns
    WHEN 5 THEN photo.at_ns END,
  coalesce(entry.number, amendment.number), hit.body
FROM hit
LEFT JOIN span ON hit.kind = 0 AND span.id = hit.id
LEFT JOIN mark ON hit.kind = 1 AND mark.id = hit.id
LEFT JOIN item ON hit.kind = 2 AND item.id = hit.id
LEFT JOIN entry ON hit.kind = 3 AND entry.id = hit.id
LEFT JOIN inspection ON hit.kind = 4 AND inspection.id = hit.id
LEFT JOIN photo ON hit.kind = 5 AND photo.id = hit.id
LEFT JOIN amendment ON hit.kind = 7 AND amendment.id = hit.id
)sql";

/// Of entries and amendments alone: the others are short enough to be shown whole.
constexpr const char* excerpts =
    "SELECT rowid, snippet(search, 0, '', '', ' ... ', 24) FROM search WHERE search MATCH ?1 AND rowid BETWEEN ?2 AND "
    "?3 AND rowid % 16 IN (3, 7)";

/// A hit before it is looked at.
struct Candidate {
  std::int64_t row = 0;
  std::int64_t occurrences = 0;
  double worth = 0;

  bool is_span() const { return row % search_kinds == search_span; }
};

/// What is rare comes before the many spans, what was written later before what is older.
bool better(const Candidate& a, const Candidate& b) {
  if (a.worth != b.worth) return a.worth > b.worth;
  return a.is_span() != b.is_span() ? b.is_span() : a.row > b.row;
}

/// The best ones, in no order, as far as occurrences alone tell.
std::vector<Candidate> find_candidates(Database& database, const std::string& query) {
  std::vector<Candidate> all;
  Query row{database, matches};
  row.with(std::string_view{query});
  while (row.next()) {
    const std::int64_t occurrences = row.integer(1);
    all.push_back({row.integer(0), occurrences, worth(occurrences, 0, 0)});
  }
  if (all.size() > most_ranked) {
    const auto last = all.begin() + static_cast<std::ptrdiff_t>(most_ranked);
    std::nth_element(all.begin(), last, all.end(), better);
    all.erase(last, all.end());
  }
  return all;
}

/// The number of words of a text, which FTS5 keeps as a variable-length integer, seven bits a byte, highest first.
double length_of(Query& size, std::int64_t row) {
  if (!size.with(row).next()) return 0;
  double length = 0;
  for (const char c : size.bytes(0)) {
    const auto byte = static_cast<unsigned char>(c);
    length = length * 128 + (byte & 0x7FU);
    if (byte < 0x80U) break;
  }
  return length;
}

/// Short texts come before long ones that say it as often.
void rank(Database& database, std::vector<Candidate>& candidates) {
  Query size{database, "SELECT sz FROM search_docsize WHERE id = ?1"};
  std::vector<double> lengths;
  double sum = 0;
  for (const Candidate& candidate : candidates) sum += lengths.emplace_back(length_of(size, candidate.row));
  const double mean = sum / static_cast<double>(std::max<std::size_t>(lengths.size(), 1));
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    candidates[i].worth = worth(candidates[i].occurrences, lengths[i], mean);
  }
  std::sort(candidates.begin(), candidates.end(), better);
}

std::map<std::int64_t, std::string> read_excerpts(Database& database, const std::string& query,
                                                  const std::vector<Candidate>& shown) {
  std::map<std::int64_t, std::string> texts;
  for (const Candidate& hit : shown) {
    if (kind_of(hit.row % search_kinds) == Hit::Kind::entry) texts[hit.row];
  }
  if (texts.empty()) return texts;
  Query row{database, excerpts};
  row.with(std::string_view{query}, texts.begin()->first, texts.rbegin()->first);
  while (row.next()) {
    if (const auto wanted = texts.find(row.integer(0)); wanted != texts.end()) wanted->second = row.text(1);
  }
  return texts;
}

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
  std::vector<Candidate> found = find_candidates(database, query);
  rank(database, found);
  if (found.size() > static_cast<std::size_t>(most)) found.resize(static_cast<std::size_t>(most));
  const auto excerpt = read_excerpts(database, query, found);
  Query row{database, one_row};
  for (const Candidate& candidate : found) {
    if (!row.with(candidate.row).next()) throw Damaged{"a search row is gone"};
    const auto words = excerpt.find(candidate.row);
    hits.push_back(hit_of(row, words == excerpt.end() ? row.text(4) : words->second));
  }
  return hits;
}

void make_findable(Database& database, journal::EntryId id, const journal::Entry& entry) {
  Query{database, "INSERT INTO search (rowid, body) VALUES (?1, ?2)"}
      .with(id.value * search_kinds + search_entry, std::string_view{journal::written_words(entry.text)})
      .run();
}

}  // namespace jigtime::store
