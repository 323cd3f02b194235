// Rows into values.
// Must never know: how rows came to be; it changes nothing.
// Begin reading at: read_record.
//
// Every function throws what Query throws.
#pragma once

#include <SQLiteCpp/Database.h>

#include <optional>
#include <vector>

#include "journal/values.h"

namespace jigtime::store {

journal::Build read_build(SQLite::Database& database);
journal::Register read_register(SQLite::Database& database);
std::vector<journal::Session> read_sessions(SQLite::Database& database);
std::optional<journal::Session> read_session(SQLite::Database& database, journal::SessionId id);
std::vector<journal::Entry> read_entries(SQLite::Database& database);
std::optional<journal::Entry> read_entry(SQLite::Database& database, journal::SessionId session);
std::optional<journal::Part> read_part(SQLite::Database& database, const FileIdentity& identity);
std::optional<journal::Clip> read_clip(SQLite::Database& database, journal::ClipId id);
std::optional<journal::Placement> read_placement(SQLite::Database& database, journal::ClipId clip);
std::optional<journal::SessionRecord> read_record(SQLite::Database& database, journal::SessionId id);

/// The footage of one session, or of one clip: `where` is an SQL condition on the table clip with one ?1.
std::vector<journal::Clip> read_clips(SQLite::Database& database, const std::string& where, std::int64_t value);
std::vector<journal::Placement> read_placements(SQLite::Database& database, const std::string& where,
                                                std::int64_t value);

}  // namespace jigtime::store
