// Rows into values.
// Must never know: how rows came to be; it changes nothing.
// Begin reading at: read_record.
//
// Every function throws what Query throws.
#pragma once

#include <optional>
#include <vector>

#include "journal/values.h"
#include "journal/working_day.h"
#include "store/database_private.h"

namespace jigtime::store {

class Query;

/// From a column with the size and the one behind it with the digest.
FileIdentity identity_in(const Query& row, int column);

journal::Build read_build(Database& database);
journal::Register read_register(Database& database);
/// Of the register, only the people and the task that the span names.
journal::Register read_named(Database& database, const journal::Span& span);
std::vector<journal::Session> read_sessions(Database& database);
std::optional<journal::Session> read_session(Database& database, journal::SessionId id);
/// The whole chain, amendments too.
std::vector<journal::Entry> read_entries(Database& database);
std::vector<journal::Signature> read_signatures(Database& database);
std::vector<journal::OpenItem> read_items(Database& database);
std::optional<journal::OpenItem> read_item(Database& database, journal::ItemId id);
std::vector<journal::Inspection> read_inspections(Database& database);
std::optional<journal::Inspection> read_inspection(Database& database, journal::InspectionId id);
std::vector<journal::Checklist> read_checklists(Database& database);
std::optional<journal::Photo> read_photo(Database& database, const FileIdentity& identity);
std::optional<std::string> read_still_bytes(Database& database, journal::StillId id);
/// Items, inspections, photos, stills and amendments of the record's session.
void read_beside(Database& database, journal::SessionRecord& record);
std::optional<journal::Entry> read_entry(Database& database, journal::SessionId session);
std::optional<journal::Part> read_part(Database& database, const FileIdentity& identity);
std::optional<journal::Clip> read_clip(Database& database, journal::ClipId id);
std::optional<journal::Placement> read_placement(Database& database, journal::ClipId clip);
/// As Store::working_times.
std::vector<journal::SessionRecord> read_working_times(Database& database);
/// As Store::working_days.
std::vector<journal::WorkingDay> read_working_days(Database& database);
std::optional<journal::SessionRecord> read_record(Database& database, journal::SessionId id);

/// The footage of one session, or of one clip: `where` is an SQL condition on the table clip with one ?1.
std::vector<journal::Clip> read_clips(Database& database, const std::string& where, std::int64_t value);
std::vector<journal::Placement> read_placements(Database& database, const std::string& where, std::int64_t value);
std::vector<journal::Tie> read_ties(Database& database, journal::SessionId session);

}  // namespace jigtime::store
