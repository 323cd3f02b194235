// What stands beside the spans: what waits, inspections, photos, stills, entries and their amendments.
#include <cstring>

#include "base/text.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {
namespace {

using namespace journal;

std::chrono::year_month_day date_in(const Query& row, int column) {
  if (const auto date = parse_date(row.text(column))) return *date;
  throw Damaged{"a date is no date"};
}

std::optional<SessionTime> moment_in(const Query& row, int column) {
  if (row.is_null(column)) return std::nullopt;
  return row.point<SessionTime>(column);
}

/// Sealings and amendments in one list of the same columns.
std::string entries_sql(const std::string& where) {
  return "SELECT id, session, number, sealed_at_ns, text, previous, digest, 0, '', '', '' FROM entry " + where +
         " UNION ALL SELECT id, session, number, sealed_at_ns, text, previous, digest, 1, reason, before, after "
         "FROM amendment " +
         where + " ORDER BY number";
}

Entry entry_of(const Query& row) {
  return {row.id<EntryId>(0), row.id<SessionId>(1),
          row.number(2),      row.point<WallTime>(3),
          row.text(4),        row.text(5),
          row.text(6),        row.integer(7) == 0 ? EntryKind::sealing : EntryKind::amendment,
          row.text(8),        row.text(9),
          row.text(10)};
}

constexpr const char* item_columns =
    "SELECT item.id, kind, item.words, opened_on, item.session, at_ns, mark, task, date, span, item_closing.session, "
    "item_closing.words FROM item LEFT JOIN item_closing ON item_closing.item = item.id ";

OpenItem item_of(const Query& row) {
  OpenItem item;
  item.id = row.id<ItemId>(0);
  item.kind = value_in(row, 1, item_words);
  item.words = row.text(2);
  item.opened_on = date_in(row, 3);
  item.session = row.optional_id<SessionId>(4);
  item.at = moment_in(row, 5);
  item.mark = row.optional_id<MarkId>(6);
  item.task = row.optional_id<TaskId>(7);
  if (!row.is_null(8)) {
    item.closing =
        ItemClosing{date_in(row, 8), row.optional_id<SpanId>(9), row.optional_id<SessionId>(10), row.text(11)};
  }
  return item;
}

constexpr const char* inspection_columns =
    "SELECT inspection.id, inspection.date, person, licence, looked_at, findings, stage, session, at_ns, "
    "inspection_clearing.date FROM inspection LEFT JOIN inspection_clearing "
    "ON inspection_clearing.inspection = inspection.id ";

Inspection inspection_of(const Query& row) {
  Inspection inspection;
  inspection.id = row.id<InspectionId>(0);
  inspection.date = date_in(row, 1);
  inspection.person = row.text(2);
  inspection.licence = row.text(3);
  inspection.looked_at = row.text(4);
  inspection.findings = row.text(5);
  inspection.stage = row.text(6);
  inspection.session = row.optional_id<SessionId>(7);
  inspection.at = moment_in(row, 8);
  if (!row.is_null(9)) inspection.cleared_on = date_in(row, 9);
  return inspection;
}

constexpr const char* photo_columns =
    "SELECT id, session, path, size_bytes, digest, camera, source, kind, edge, since_epoch_ns, resolution_ns, "
    "clock_text, at_ns, sigma_ns, note FROM photo ";

Photo photo_of(const Query& row) {
  Photo photo;
  photo.id = row.id<PhotoId>(0);
  photo.session = row.id<SessionId>(1);
  photo.path = row.bytes(2);
  photo.identity = identity_in(row, 3);
  photo.camera = row.text(5);
  if (!row.is_null(6)) {
    photo.taken = ClockReading{value_in(row, 6, source_words),
                               value_in(row, 7, kind_words),
                               value_in(row, 8, edge_words),
                               row.length(9),
                               row.length(10),
                               row.text(11)};
  }
  photo.at = moment_in(row, 12);
  photo.sigma = row.length(13);
  photo.note = row.text(14);
  return photo;
}

Still still_of(const Query& row) {
  return {row.id<StillId>(0),         row.id<SessionId>(1),   row.point<SessionTime>(2),  row.id<CameraId>(3),
          row.optional_id<ClipId>(4), row.point<ClipTime>(5), row.optional_id<MarkId>(6), row.text(7)};
}

/// All rows of a query, each made a value.
template <class Make>
auto all(Query& row, Make make) {
  std::vector<decltype(make(row))> values;
  while (row.next()) values.push_back(make(row));
  return values;
}

template <class Make>
auto first(Query& row, Make make) -> std::optional<decltype(make(row))> {
  if (!row.next()) return std::nullopt;
  return make(row);
}

}  // namespace

FileIdentity identity_in(const Query& row, int column) {
  FileIdentity identity;
  identity.size_bytes = static_cast<std::uint64_t>(row.integer(column));
  const std::string digest = row.bytes(column + 1);
  if (digest.size() != identity.digest.size()) throw Damaged{"a file's digest is cut short"};
  std::memcpy(identity.digest.data(), digest.data(), digest.size());
  return identity;
}

std::vector<Entry> read_entries(Database& database) {
  Query row{database, entries_sql("")};
  return all(row, entry_of);
}

std::optional<Entry> read_entry(Database& database, SessionId session) {
  Query row{database, entries_sql("WHERE session = ?1")};
  row.with(session);
  while (row.next()) {
    if (Entry entry = entry_of(row); entry.kind == EntryKind::sealing) return entry;
  }
  return std::nullopt;
}

std::vector<Signature> read_signatures(Database& database) {
  Query row{database, "SELECT number, public_key, signature FROM signature ORDER BY number, public_key"};
  return all(row, [](const Query& r) { return Signature{r.number(0), r.text(1), r.text(2)}; });
}

std::vector<OpenItem> read_items(Database& database) {
  Query row{database, item_columns + std::string{"ORDER BY opened_on, item.id"}};
  return all(row, item_of);
}

std::optional<OpenItem> read_item(Database& database, ItemId id) {
  Query row{database, item_columns + std::string{"WHERE item.id = ?1"}};
  return first(row.with(id), item_of);
}

std::vector<Inspection> read_inspections(Database& database) {
  Query row{database, inspection_columns + std::string{"ORDER BY inspection.date, inspection.id"}};
  return all(row, inspection_of);
}

std::optional<Inspection> read_inspection(Database& database, InspectionId id) {
  Query row{database, inspection_columns + std::string{"WHERE inspection.id = ?1"}};
  return first(row.with(id), inspection_of);
}

std::optional<Photo> read_photo(Database& database, const FileIdentity& identity) {
  const std::string digest(identity.digest.begin(), identity.digest.end());
  Query row{database, photo_columns + std::string{"WHERE digest = ?1 AND size_bytes = ?2 ORDER BY id LIMIT 1"}};
  return first(row.with(Bytes{digest}, static_cast<std::int64_t>(identity.size_bytes)), photo_of);
}

std::optional<std::string> read_still_bytes(Database& database, StillId id) {
  Query row{database, "SELECT bytes FROM still WHERE id = ?1"};
  return first(row.with(id), [](const Query& r) { return r.bytes(0); });
}

void read_beside(Database& database, SessionRecord& record) {
  const SessionId id = record.session.id;
  Query item{database, item_columns + std::string{"WHERE item.session = ?1 OR item.id IN (SELECT item FROM "
                                                  "item_closing WHERE session = ?1) ORDER BY item.id"}};
  record.items = all(item.with(id), item_of);
  Query inspection{database, inspection_columns + std::string{"WHERE session = ?1 ORDER BY inspection.id"}};
  record.inspections = all(inspection.with(id), inspection_of);
  Query photo{database, photo_columns + std::string{"WHERE session = ?1 ORDER BY id"}};
  record.photos = all(photo.with(id), photo_of);
  Query still{database,
              "SELECT id, session, at_ns, camera, clip, clip_at_ns, mark, digest FROM still WHERE session = ?1 "
              "ORDER BY at_ns, id"};
  record.stills = all(still.with(id), still_of);
  Query entry{database, entries_sql("WHERE session = ?1")};
  for (Entry& link : all(entry.with(id), entry_of)) {
    if (link.kind == EntryKind::amendment) record.amendments.push_back(std::move(link));
  }
}

}  // namespace jigtime::store
