#include <unordered_map>

#include "base/text.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {
namespace {

using namespace journal;

constexpr const char* part_columns = "SELECT id, clip, path, size_bytes, digest, clip_from_ns, length_ns FROM part ";
constexpr const char* clock_columns =
    "SELECT part, source, kind, edge, since_epoch_ns, resolution_ns, text "
    "FROM clock_reading ";

Part part_of(const Query& row) {
  Part part;
  part.id = row.id<PartId>(0);
  part.path = row.bytes(2);
  part.identity = identity_in(row, 3);
  part.clip_from = row.point<ClipTime>(5);
  part.length = row.length(6);
  return part;
}

ClockReading clock_of(const Query& row) {
  return {value_in(row, 1, source_words),
          value_in(row, 2, kind_words),
          value_in(row, 3, edge_words),
          row.length(4),
          row.length(5),
          row.text(6)};
}

Clip clip_of(const Query& row) {
  Clip clip;
  clip.id = row.id<ClipId>(0);
  clip.session = row.id<SessionId>(1);
  clip.camera = row.id<CameraId>(2);
  clip.length = row.length(3);
  if (!row.is_null(4)) clip.sound = Sound{row.text(4), row.number(5), row.number(6)};
  if (!row.is_null(7)) clip.pictures = Pictures{row.text(7), row.number(8), row.number(9), row.length(10)};
  return clip;
}

std::string of_clips(const std::string& columns, const std::string& where) {
  return columns + " WHERE clip IN (SELECT id FROM clip WHERE " + where + ") ORDER BY clip, position";
}

using Places = std::unordered_map<std::int64_t, std::size_t>;

void read_parts(Database& database, const std::string& where, std::int64_t value, const Places& at,
                std::vector<Clip>& clips) {
  Query row{database, of_clips(part_columns, where)};
  row.with(value);
  std::unordered_map<std::int64_t, std::vector<ClockReading>> clocks;
  Query clock{database, (clock_columns +
                         std::string{"WHERE part IN (SELECT id FROM part WHERE clip IN (SELECT id FROM "
                                     "clip WHERE "} +
                         where + ")) ORDER BY part, position")};
  clock.with(value);
  while (clock.next()) clocks[clock.integer(0)].push_back(clock_of(clock));
  while (row.next()) {
    Part part = part_of(row);
    if (const auto found = clocks.find(part.id.value); found != clocks.end()) part.clocks = std::move(found->second);
    clips[at.at(row.integer(1))].parts.push_back(std::move(part));
  }
}

void read_pieces(Database& database, const std::string& where, std::int64_t value, const Places& at,
                 std::vector<Placement>& placements) {
  Query piece{
      database,
      of_clips("SELECT clip, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns FROM piece", where)};
  piece.with(value);
  while (piece.next()) {
    placements[at.at(piece.integer(0))].pieces.push_back({piece.point<ClipTime>(1), piece.point<ClipTime>(2),
                                                          piece.point<SessionTime>(3), piece.integer(4),
                                                          piece.length(5)});
  }
  Query evidence{database,
                 of_clips("SELECT clip, with_clip, overlap_ns, score_milli, windows, agreed FROM evidence", where)};
  evidence.with(value);
  while (evidence.next()) {
    placements[at.at(evidence.integer(0))].evidence.push_back(
        {evidence.id<ClipId>(1), evidence.length(2), evidence.integer(3), evidence.number(4), evidence.number(5)});
  }
}

void read_let_go(Database& database, const std::string& where, std::int64_t value, const Places& at,
                 std::vector<Clip>& clips) {
  Query row{database, ("SELECT clip, date, reason, kept_path, kept_size_bytes, kept_digest FROM let_go WHERE clip IN "
                       "(SELECT id FROM clip WHERE " +
                       where + ")")};
  row.with(value);
  while (row.next()) {
    const auto date = parse_date(row.text(1));
    if (!date) throw Damaged{"a date is no date"};
    LetGo let_go{*date, row.text(2)};
    if (!row.is_null(3)) {
      let_go.kept_copy = row.bytes(3);
      let_go.kept_is = identity_in(row, 4);
    }
    clips[at.at(row.integer(0))].let_go = std::move(let_go);
  }
}

}  // namespace

std::vector<Clip> read_clips(Database& database, const std::string& where, std::int64_t value) {
  std::vector<Clip> clips;
  Places at;
  Query row{database, ("SELECT id, session, camera, length_ns, sound_codec, sound_rate_hz, sound_channels, "
                       "picture_codec, picture_width, picture_height, picture_length_ns FROM clip WHERE " +
                       where +
                       " ORDER BY camera, (SELECT path FROM part WHERE part.clip = clip.id ORDER BY position LIMIT 1), "
                       "id")};
  row.with(value);
  while (row.next()) {
    clips.push_back(clip_of(row));
    at[clips.back().id.value] = clips.size() - 1;
  }
  read_parts(database, where, value, at, clips);
  Query note{database, of_clips("SELECT clip, text FROM clip_note", where)};
  note.with(value);
  while (note.next()) clips[at.at(note.integer(0))].notes.push_back(note.text(1));
  read_let_go(database, where, value, at, clips);
  return clips;
}

std::vector<Placement> read_placements(Database& database, const std::string& where, std::int64_t value) {
  std::vector<Placement> placements;
  Places at;
  Query row{database, ("SELECT clip, basis, tied FROM placement WHERE clip IN (SELECT id FROM clip WHERE " + where +
                       ") ORDER BY clip")};
  row.with(value);
  while (row.next()) {
    at[row.integer(0)] = placements.size();
    placements.push_back({row.id<ClipId>(0), value_in(row, 1, basis_words), {}, {}, {}, row.integer(2) != 0});
  }
  read_pieces(database, where, value, at, placements);
  Query note{database, of_clips("SELECT clip, text FROM placement_note", where)};
  note.with(value);
  while (note.next()) placements[at.at(note.integer(0))].notes.push_back(note.text(1));
  return placements;
}

std::vector<Tie> read_ties(Database& database, SessionId session) {
  std::vector<Tie> ties;
  Query row{database,
            "SELECT id, clip_a, at_a_ns, clip_b, at_b_ns FROM tie WHERE clip_a IN (SELECT id FROM clip WHERE session = "
            "?1) ORDER BY id"};
  row.with(session);
  while (row.next()) {
    ties.push_back(
        {row.id<TieId>(0), row.id<ClipId>(1), row.point<ClipTime>(2), row.id<ClipId>(3), row.point<ClipTime>(4)});
  }
  return ties;
}

std::optional<Clip> read_clip(Database& database, ClipId id) {
  std::vector<Clip> clips = read_clips(database, "id = ?1", id.value);
  if (clips.empty()) return std::nullopt;
  return std::move(clips.front());
}

std::optional<Placement> read_placement(Database& database, ClipId clip) {
  std::vector<Placement> placements = read_placements(database, "id = ?1", clip.value);
  if (placements.empty()) return std::nullopt;
  return std::move(placements.front());
}

std::optional<Part> read_part(Database& database, const FileIdentity& identity) {
  const std::string digest(identity.digest.begin(), identity.digest.end());
  Query row{database, (part_columns + std::string{"WHERE digest = ?1 AND size_bytes = ?2 ORDER BY id LIMIT 1"})};
  if (!row.with(Bytes{digest}, static_cast<std::int64_t>(identity.size_bytes)).next()) return std::nullopt;
  Part part = part_of(row);
  Query clock{database, (clock_columns + std::string{"WHERE part = ?1 ORDER BY position"})};
  clock.with(part.id);
  while (clock.next()) part.clocks.push_back(clock_of(clock));
  return part;
}

}  // namespace jigtime::store
