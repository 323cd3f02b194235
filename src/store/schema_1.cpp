#include "store/schema_private.h"

namespace jigtime::store {
namespace {

/// Times are INTEGER nanoseconds in columns named *_ns; paths are BLOB because file names may be any bytes.
constexpr std::string_view tables_1 = R"sql(
CREATE TABLE build (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL, registration TEXT NOT NULL, place TEXT NOT NULL, zone TEXT NOT NULL,
  rounding TEXT NOT NULL CHECK (rounding IN ('none', 'minute', 'tenth_hour', 'quarter_hour'))
) STRICT;
CREATE TABLE person (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL CHECK (role IN ('builder', 'helper', 'hired', 'supplier'))
) STRICT;
CREATE TABLE assembly (
  id INTEGER PRIMARY KEY, parent INTEGER REFERENCES assembly, name TEXT NOT NULL
) STRICT;
CREATE UNIQUE INDEX assembly_name ON assembly (ifnull(parent, 0), name);
CREATE TABLE task (
  id INTEGER PRIMARY KEY, title TEXT NOT NULL UNIQUE, assembly INTEGER REFERENCES assembly,
  plan_sheet TEXT NOT NULL, plan_step TEXT NOT NULL
) STRICT;
CREATE TABLE planned (
  id INTEGER PRIMARY KEY, task INTEGER NOT NULL REFERENCES task, callout TEXT NOT NULL,
  count INTEGER NOT NULL CHECK (count >= 1), UNIQUE (task, callout)
) STRICT;
CREATE TABLE camera (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;

CREATE TABLE session (
  id INTEGER PRIMARY KEY, date TEXT NOT NULL UNIQUE, zero_ns INTEGER, reference INTEGER REFERENCES camera,
  note TEXT NOT NULL
) STRICT;
CREATE TABLE clip (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session, camera INTEGER NOT NULL REFERENCES camera,
  length_ns INTEGER NOT NULL CHECK (length_ns >= 0),
  sound_codec TEXT, sound_rate_hz INTEGER, sound_channels INTEGER,
  picture_codec TEXT, picture_width INTEGER, picture_height INTEGER, picture_length_ns INTEGER
) STRICT;
CREATE INDEX clip_session ON clip (session);
CREATE TABLE clip_note (
  clip INTEGER NOT NULL REFERENCES clip ON DELETE CASCADE, position INTEGER NOT NULL, text TEXT NOT NULL,
  PRIMARY KEY (clip, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE part (
  id INTEGER PRIMARY KEY, clip INTEGER NOT NULL REFERENCES clip ON DELETE CASCADE, position INTEGER NOT NULL,
  path BLOB NOT NULL, size_bytes INTEGER NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  clip_from_ns INTEGER NOT NULL, length_ns INTEGER NOT NULL, UNIQUE (clip, position)
) STRICT;
CREATE INDEX part_identity ON part (digest, size_bytes);
CREATE TABLE clock_reading (
  part INTEGER NOT NULL REFERENCES part ON DELETE CASCADE, position INTEGER NOT NULL,
  source TEXT NOT NULL CHECK (source IN ('timecode', 'container', 'name', 'file_time')),
  kind TEXT NOT NULL CHECK (kind IN ('utc', 'local', 'time_of_day')),
  edge TEXT NOT NULL CHECK (edge IN ('begin', 'end')),
  since_epoch_ns INTEGER NOT NULL, resolution_ns INTEGER NOT NULL, text TEXT NOT NULL,
  PRIMARY KEY (part, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE unreadable (
  session INTEGER NOT NULL REFERENCES session, path BLOB NOT NULL, camera INTEGER NOT NULL REFERENCES camera,
  why TEXT NOT NULL, PRIMARY KEY (session, path)
) STRICT, WITHOUT ROWID;
CREATE TABLE placement (
  clip INTEGER PRIMARY KEY REFERENCES clip ON DELETE CASCADE,
  basis TEXT NOT NULL CHECK (basis IN ('audio', 'clock', 'manual', 'none'))
) STRICT;
CREATE TABLE piece (
  clip INTEGER NOT NULL REFERENCES placement ON DELETE CASCADE, position INTEGER NOT NULL,
  clip_from_ns INTEGER NOT NULL, clip_to_ns INTEGER NOT NULL CHECK (clip_to_ns > clip_from_ns),
  session_start_ns INTEGER NOT NULL, rate_ppb INTEGER NOT NULL, sigma_ns INTEGER NOT NULL CHECK (sigma_ns >= 0),
  PRIMARY KEY (clip, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE evidence (
  clip INTEGER NOT NULL REFERENCES placement ON DELETE CASCADE, position INTEGER NOT NULL,
  with_clip INTEGER NOT NULL REFERENCES clip ON DELETE CASCADE, overlap_ns INTEGER NOT NULL,
  score_milli INTEGER NOT NULL, windows INTEGER NOT NULL, agreed INTEGER NOT NULL,
  PRIMARY KEY (clip, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX evidence_with ON evidence (with_clip);
CREATE TABLE placement_note (
  clip INTEGER NOT NULL REFERENCES placement ON DELETE CASCADE, position INTEGER NOT NULL, text TEXT NOT NULL,
  PRIMARY KEY (clip, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE camera_clock (
  session INTEGER NOT NULL REFERENCES session, camera INTEGER NOT NULL REFERENCES camera,
  offset_ns INTEGER NOT NULL, rate_ppb INTEGER NOT NULL, known INTEGER NOT NULL CHECK (known IN (0, 1)),
  PRIMARY KEY (session, camera)
) STRICT, WITHOUT ROWID;

CREATE TABLE span (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session,
  kind TEXT NOT NULL CHECK (kind IN ('work', 'break')),
  begin_ns INTEGER NOT NULL CHECK (begin_ns >= 0), end_ns INTEGER NOT NULL CHECK (end_ns > begin_ns),
  task INTEGER REFERENCES task, note TEXT NOT NULL, CHECK (kind = 'break' OR task IS NOT NULL)
) STRICT;
CREATE INDEX span_session ON span (session, begin_ns);
CREATE INDEX span_task ON span (task);
CREATE TABLE span_person (
  span INTEGER NOT NULL REFERENCES span ON DELETE CASCADE, position INTEGER NOT NULL,
  person INTEGER NOT NULL REFERENCES person, PRIMARY KEY (span, position), UNIQUE (span, person)
) STRICT, WITHOUT ROWID;
CREATE INDEX span_person_person ON span_person (person);
CREATE TABLE span_fastener (
  span INTEGER NOT NULL REFERENCES span ON DELETE CASCADE, position INTEGER NOT NULL, callout TEXT NOT NULL,
  method TEXT NOT NULL CHECK (method IN ('driven', 'squeezed', 'pulled', 'other')),
  set_count INTEGER NOT NULL CHECK (set_count >= 1),
  drilled INTEGER NOT NULL CHECK (drilled BETWEEN 0 AND set_count), PRIMARY KEY (span, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE mark (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session,
  at_ns INTEGER NOT NULL CHECK (at_ns >= 0), note TEXT NOT NULL
) STRICT;
CREATE INDEX mark_session ON mark (session, at_ns);
CREATE TABLE proposal (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session,
  kind TEXT NOT NULL CHECK (kind IN ('riveting', 'break', 'signal')),
  begin_ns INTEGER NOT NULL, end_ns INTEGER NOT NULL CHECK (end_ns >= begin_ns),
  count INTEGER NOT NULL, confidence_permille INTEGER NOT NULL CHECK (confidence_permille BETWEEN 0 AND 1000)
) STRICT;
CREATE INDEX proposal_session ON proposal (session, begin_ns);
CREATE TABLE entry (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL UNIQUE REFERENCES session, number INTEGER NOT NULL UNIQUE,
  sealed_at_ns INTEGER NOT NULL, text TEXT NOT NULL, previous TEXT NOT NULL, digest TEXT NOT NULL
) STRICT;

-- What was done, newest last. `changes` is SQLite's change set of the edit's rows.
CREATE TABLE edit (
  id INTEGER PRIMARY KEY, at_ns INTEGER NOT NULL, label TEXT NOT NULL, changes BLOB NOT NULL
) STRICT;
)sql";

constexpr std::string_view search_table_1 = R"sql(
CREATE VIRTUAL TABLE search USING fts5 (body, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
)sql";

/// The row's number is that of what it describes times 4, plus its kind.
constexpr std::string_view search_1 = R"sql(
CREATE TRIGGER mark_found AFTER INSERT ON mark BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 4 + 1, NEW.note);
END;
CREATE TRIGGER mark_refound AFTER UPDATE ON mark BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 4 + 1;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 4 + 1, NEW.note);
END;
CREATE TRIGGER mark_lost AFTER DELETE ON mark BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 4 + 1;
END;
CREATE TRIGGER span_lost AFTER DELETE ON span BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 4;
END;
)sql";

constexpr Owner owners_1[] = {
    {"session", "ROW.id"},
    {"clip", "ROW.session"},
    {"unreadable", "ROW.session"},
    {"camera_clock", "ROW.session"},
    {"span", "ROW.session"},
    {"mark", "ROW.session"},
    {"proposal", "ROW.session"},
    {"clip_note", of_clip},
    {"part", of_clip},
    {"placement", of_clip},
    {"piece", of_clip},
    {"evidence", of_clip},
    {"placement_note", of_clip},
    {"clock_reading", "(SELECT session FROM clip WHERE id = (SELECT clip FROM part WHERE id = ROW.part))"},
    {"span_person", of_span},
    {"span_fastener", of_span},
};

std::string seal_triggers_1() {
  return refusal("entry_kept", "DELETE ON entry", "") + refusal("entry_unaltered", "UPDATE ON entry", "") +
         seal_triggers(owners_1);
}

}  // namespace

std::string to_format_1() {
  return std::string{tables_1} + std::string{search_table_1} + std::string{span_words_view} + std::string{search_1} +
         span_triggers("4") + seal_triggers_1();
}

}  // namespace jigtime::store
