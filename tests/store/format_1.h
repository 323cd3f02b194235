// A journal of format 1 as the program of that time made it: its tables, and some rows. Never changed.
#pragma once

#include <string_view>

namespace jigtime::test {

// clang-format off
inline constexpr std::string_view format_1_tables = R"sql(
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

CREATE VIRTUAL TABLE search USING fts5 (body, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
CREATE VIEW span_words AS SELECT span.id AS id,
    CASE span.kind WHEN 'break' THEN 'break' || char(10) ELSE '' END
    || ifnull(task.title || char(10), '')
    || ifnull((WITH RECURSIVE up (parent, name, level) AS (
          SELECT parent, name, 0 FROM assembly WHERE id = task.assembly
          UNION ALL SELECT a.parent, a.name, level + 1 FROM assembly AS a, up WHERE a.id = up.parent AND level < 99)
        SELECT group_concat(name, ' / ') FROM (SELECT name FROM up ORDER BY level DESC)) || char(10), '')
    || ifnull((SELECT group_concat(name, ', ') FROM (SELECT person.name FROM span_person JOIN person
        ON person.id = span_person.person WHERE span_person.span = span.id ORDER BY position)) || char(10), '')
    || ifnull((SELECT group_concat(callout, ', ') FROM (SELECT callout FROM span_fastener
        WHERE span_fastener.span = span.id ORDER BY position)) || char(10), '')
    || span.note AS body
  FROM span LEFT JOIN task ON task.id = span.task;

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
CREATE TRIGGER span_found AFTER INSERT ON span BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.id);
END;
CREATE TRIGGER span_refound AFTER UPDATE ON span BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.id);
END;
CREATE TRIGGER span_person_found AFTER INSERT ON span_person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = NEW.span);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.span);
END;
CREATE TRIGGER span_person_lost AFTER DELETE ON span_person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = OLD.span);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = OLD.span);
END;
CREATE TRIGGER span_fastener_found AFTER INSERT ON span_fastener BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = NEW.span);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.span);
END;
CREATE TRIGGER span_fastener_lost AFTER DELETE ON span_fastener BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id = OLD.span);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = OLD.span);
END;
CREATE TRIGGER task_refound AFTER UPDATE OF title, assembly ON task BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE task = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE task = NEW.id);
END;
CREATE TRIGGER person_refound AFTER UPDATE OF name ON person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE id IN (SELECT span FROM span_person WHERE person = NEW.id));
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id IN (SELECT span FROM span_person WHERE person = NEW.id));
END;
CREATE TRIGGER assembly_refound AFTER UPDATE OF name, parent ON assembly BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 4 FROM span WHERE task IS NOT NULL);
  INSERT INTO search (rowid, body) SELECT id * 4, body FROM span_words WHERE id IN (SELECT id FROM span WHERE task IS NOT NULL);
END;
CREATE TRIGGER entry_kept BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER entry_unaltered BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_session BEFORE UPDATE ON session WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.id) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.id) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_session BEFORE DELETE ON session WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.id) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_clip BEFORE INSERT ON clip WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_clip BEFORE UPDATE ON clip WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_clip BEFORE DELETE ON clip WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_unreadable BEFORE INSERT ON unreadable WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_unreadable BEFORE UPDATE ON unreadable WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_unreadable BEFORE DELETE ON unreadable WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_camera_clock BEFORE INSERT ON camera_clock WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_camera_clock BEFORE UPDATE ON camera_clock WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_camera_clock BEFORE DELETE ON camera_clock WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_span BEFORE INSERT ON span WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_span BEFORE UPDATE ON span WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_span BEFORE DELETE ON span WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_mark BEFORE INSERT ON mark WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_mark BEFORE UPDATE ON mark WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_mark BEFORE DELETE ON mark WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_proposal BEFORE INSERT ON proposal WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_proposal BEFORE UPDATE ON proposal WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_proposal BEFORE DELETE ON proposal WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_clip_note BEFORE INSERT ON clip_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_clip_note BEFORE UPDATE ON clip_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_clip_note BEFORE DELETE ON clip_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_part BEFORE INSERT ON part WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_part BEFORE UPDATE OF id, clip, position, size_bytes, digest, clip_from_ns, length_ns ON part WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_part BEFORE DELETE ON part WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_placement BEFORE INSERT ON placement WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_placement BEFORE UPDATE ON placement WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_placement BEFORE DELETE ON placement WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_piece BEFORE INSERT ON piece WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_piece BEFORE UPDATE ON piece WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_piece BEFORE DELETE ON piece WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_evidence BEFORE INSERT ON evidence WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_evidence BEFORE UPDATE ON evidence WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_evidence BEFORE DELETE ON evidence WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_placement_note BEFORE INSERT ON placement_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_placement_note BEFORE UPDATE ON placement_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_placement_note BEFORE DELETE ON placement_note WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_clock_reading BEFORE INSERT ON clock_reading WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = (SELECT clip FROM part WHERE id = NEW.part))) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_clock_reading BEFORE UPDATE ON clock_reading WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = (SELECT clip FROM part WHERE id = OLD.part))) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = (SELECT clip FROM part WHERE id = NEW.part))) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_clock_reading BEFORE DELETE ON clock_reading WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = (SELECT clip FROM part WHERE id = OLD.part))) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_span_person BEFORE INSERT ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_span_person BEFORE UPDATE ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_span_person BEFORE DELETE ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_span_fastener BEFORE INSERT ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_span_fastener BEFORE UPDATE ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_span_fastener BEFORE DELETE ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
)sql";

inline constexpr std::string_view format_1_rows = R"sql(
INSERT INTO build VALUES (1, 'Two-seat low wing', 'X-TEST', 'Shed 4', 'Pacific/Chatham', 'tenth_hour');
INSERT INTO person VALUES (1, 'Ana', 'builder'), (2, 'Bo', 'helper');
INSERT INTO assembly VALUES (1, NULL, 'Tail'), (2, 1, 'Elevator, left');
INSERT INTO task VALUES (1, 'Rivet the skin', 2, '07', '3a');
INSERT INTO planned VALUES (1, 1, 'MS20426AD3-4.5', 40);
INSERT INTO camera VALUES (1, 'bench');
INSERT INTO session VALUES (1, '2026-03-14', 1773475200000000005, 1, 'Cold shed.'), (2, '2026-03-15', NULL, NULL, '');
INSERT INTO clip VALUES (1, 1, 1, 3600000000000, 'aac', 48000, 2, NULL, NULL, NULL, NULL);
INSERT INTO part VALUES (1, 1, 0, x'2F61', 77, zeroblob(32), 0, 3600000000000);
INSERT INTO placement VALUES (1, 'audio');
INSERT INTO piece VALUES (1, 0, 0, 3600000000000, 1000000000, 3100, 400000);
INSERT INTO span VALUES (1, 1, 'work', 300000000000, 3000000000000, 1, 'Skin oil-cans.'),
                        (2, 2, 'work', 0, 60000000000, 1, 'After the seal.');
INSERT INTO span_person VALUES (1, 0, 1), (1, 1, 2), (2, 0, 2);
INSERT INTO span_fastener VALUES (1, 0, 'MS20426AD3-4.5', 'squeezed', 31, 1);
INSERT INTO mark VALUES (1, 1, 720000000000, 'First rivet.');
INSERT INTO entry VALUES (1, 1, 1, 0, 'x', '0000000000000000000000000000000000000000000000000000000000000000', '1111111111111111111111111111111111111111111111111111111111111111');
INSERT INTO search (rowid, body) VALUES (7, 'Entry words');
INSERT INTO edit VALUES (1, 5, 'tag a span', x'00');
PRAGMA application_id = 1248421716;
PRAGMA user_version = 1;
)sql";
// clang-format on

}  // namespace jigtime::test
