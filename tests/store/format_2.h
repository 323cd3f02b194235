// A journal of format 2 as the program of that time made it: its tables, and some rows. Never changed.
#pragma once

#include <string_view>

namespace jigtime::test {

// clang-format off
inline constexpr std::string_view format_2_tables = R"sql(
CREATE TABLE build (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL, registration TEXT NOT NULL, place TEXT NOT NULL, zone TEXT NOT NULL,
  rounding TEXT NOT NULL CHECK (rounding IN ('none', 'minute', 'tenth_hour', 'quarter_hour'))
, regime TEXT NOT NULL DEFAULT '') STRICT;
CREATE TABLE person (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL CHECK (role IN ('builder', 'helper', 'hired', 'supplier'))
, archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)), merged INTEGER REFERENCES person) STRICT;
CREATE TABLE assembly (
  id INTEGER PRIMARY KEY, parent INTEGER REFERENCES assembly, name TEXT NOT NULL
, plan_sheet TEXT NOT NULL DEFAULT '', archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)), merged INTEGER REFERENCES assembly) STRICT;
CREATE UNIQUE INDEX assembly_name ON assembly (ifnull(parent, 0), name);
CREATE TABLE task (
  id INTEGER PRIMARY KEY, title TEXT NOT NULL UNIQUE, assembly INTEGER REFERENCES assembly,
  plan_sheet TEXT NOT NULL, plan_step TEXT NOT NULL
, parent INTEGER REFERENCES task, checklist_line INTEGER REFERENCES checklist_line, archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)), merged INTEGER REFERENCES task) STRICT;
CREATE TABLE planned (
  id INTEGER PRIMARY KEY, task INTEGER NOT NULL REFERENCES task, callout TEXT NOT NULL,
  count INTEGER NOT NULL CHECK (count >= 1), UNIQUE (task, callout)
) STRICT;
CREATE TABLE camera (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE session (
  id INTEGER PRIMARY KEY, date TEXT NOT NULL UNIQUE, zero_ns INTEGER, reference INTEGER REFERENCES camera,
  note TEXT NOT NULL
, place TEXT NOT NULL DEFAULT '') STRICT;
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
  task INTEGER REFERENCES task, note TEXT NOT NULL, off_camera INTEGER NOT NULL DEFAULT 0 CHECK (off_camera IN (0, 1)), CHECK (kind = 'break' OR task IS NOT NULL)
) STRICT;
CREATE INDEX span_session ON span (session, begin_ns);
CREATE INDEX span_task ON span (task);
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
CREATE TABLE edit (
  id INTEGER PRIMARY KEY, at_ns INTEGER NOT NULL, label TEXT NOT NULL, changes BLOB NOT NULL
, who TEXT NOT NULL DEFAULT '', deed TEXT NOT NULL DEFAULT 'edit' CHECK (deed IN ('edit', 'undo', 'redo')), target INTEGER REFERENCES edit) STRICT;
CREATE VIRTUAL TABLE search USING fts5 (body, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
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
CREATE TRIGGER sealed_insert_span_fastener BEFORE INSERT ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_span_fastener BEFORE UPDATE ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_span_fastener BEFORE DELETE ON span_fastener WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TABLE checklist (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, title TEXT NOT NULL, source TEXT NOT NULL,
  official INTEGER NOT NULL CHECK (official IN (0, 1))
) STRICT;
CREATE TABLE checklist_line (
  id INTEGER PRIMARY KEY, checklist INTEGER NOT NULL REFERENCES checklist ON DELETE CASCADE, position INTEGER NOT NULL,
  number TEXT NOT NULL, title TEXT NOT NULL, section TEXT NOT NULL,
  applicable INTEGER NOT NULL CHECK (applicable IN (0, 1)),
  maker INTEGER NOT NULL CHECK (maker >= 0), paid INTEGER NOT NULL CHECK (paid >= 0),
  assembly INTEGER NOT NULL CHECK (assembly >= 0), fabrication INTEGER NOT NULL CHECK (fabrication >= 0),
  CHECK (maker + paid + assembly + fabrication = 10 * applicable)
) STRICT;
CREATE INDEX checklist_line_list ON checklist_line (checklist, position);
CREATE INDEX task_checklist_line ON task (checklist_line);
CREATE TABLE inspection (
  id INTEGER PRIMARY KEY, date TEXT NOT NULL, person TEXT NOT NULL, licence TEXT NOT NULL, looked_at TEXT NOT NULL,
  findings TEXT NOT NULL, stage TEXT NOT NULL, session INTEGER REFERENCES session, at_ns INTEGER,
  CHECK (at_ns IS NULL OR session IS NOT NULL)
) STRICT;
CREATE INDEX inspection_session ON inspection (session);
CREATE TABLE inspection_clearing (
  inspection INTEGER PRIMARY KEY REFERENCES inspection ON DELETE CASCADE, date TEXT NOT NULL
) STRICT;
CREATE TABLE item (
  id INTEGER PRIMARY KEY, kind TEXT NOT NULL CHECK (kind IN ('part', 'tool', 'answer', 'inspection', 'redo')),
  words TEXT NOT NULL, opened_on TEXT NOT NULL, session INTEGER REFERENCES session, at_ns INTEGER,
  mark INTEGER REFERENCES mark, task INTEGER REFERENCES task,
  CHECK ((at_ns IS NULL AND mark IS NULL) OR session IS NOT NULL)
) STRICT;
CREATE INDEX item_session ON item (session);
CREATE INDEX item_mark ON item (mark);
CREATE TABLE item_closing (
  item INTEGER PRIMARY KEY REFERENCES item ON DELETE CASCADE, date TEXT NOT NULL, span INTEGER REFERENCES span,
  session INTEGER REFERENCES session, words TEXT NOT NULL, CHECK ((span IS NULL) = (session IS NULL))
) STRICT;
CREATE INDEX item_closing_session ON item_closing (session);
CREATE INDEX item_closing_span ON item_closing (span);
CREATE TABLE photo (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session, path BLOB NOT NULL,
  size_bytes INTEGER NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32), camera TEXT NOT NULL,
  source TEXT CHECK (source IN ('timecode', 'container', 'name', 'file_time')),
  kind TEXT CHECK (kind IN ('utc', 'local', 'time_of_day')), edge TEXT CHECK (edge IN ('begin', 'end')),
  since_epoch_ns INTEGER, resolution_ns INTEGER, clock_text TEXT,
  at_ns INTEGER, sigma_ns INTEGER NOT NULL CHECK (sigma_ns >= 0), note TEXT NOT NULL
) STRICT;
CREATE INDEX photo_session ON photo (session);
CREATE INDEX photo_identity ON photo (digest, size_bytes);
CREATE TABLE still (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session, at_ns INTEGER NOT NULL,
  camera INTEGER NOT NULL REFERENCES camera, clip INTEGER REFERENCES clip, clip_at_ns INTEGER NOT NULL,
  mark INTEGER REFERENCES mark, digest TEXT NOT NULL, bytes BLOB NOT NULL
) STRICT;
CREATE INDEX still_session ON still (session, at_ns);
CREATE INDEX still_clip ON still (clip);
CREATE INDEX still_mark ON still (mark);
CREATE TABLE let_go (
  clip INTEGER PRIMARY KEY REFERENCES clip ON DELETE CASCADE, date TEXT NOT NULL,
  reason TEXT NOT NULL CHECK (reason <> ''), kept_path BLOB, kept_size_bytes INTEGER,
  kept_digest BLOB CHECK (length(kept_digest) = 32),
  CHECK ((kept_path IS NULL) = (kept_digest IS NULL) AND (kept_path IS NULL) = (kept_size_bytes IS NULL))
) STRICT;
CREATE TABLE amendment (
  id INTEGER PRIMARY KEY, session INTEGER NOT NULL REFERENCES session, number INTEGER NOT NULL UNIQUE,
  sealed_at_ns INTEGER NOT NULL, reason TEXT NOT NULL CHECK (reason <> ''), before TEXT NOT NULL,
  after TEXT NOT NULL, text TEXT NOT NULL, previous TEXT NOT NULL, digest TEXT NOT NULL
) STRICT;
CREATE INDEX amendment_session ON amendment (session);
CREATE TABLE signature (
  number INTEGER NOT NULL, public_key TEXT NOT NULL, signature TEXT NOT NULL, PRIMARY KEY (number, public_key)
) STRICT, WITHOUT ROWID;
CREATE TABLE span_person (
  span INTEGER NOT NULL REFERENCES span ON DELETE CASCADE, position INTEGER NOT NULL,
  person INTEGER NOT NULL REFERENCES person, PRIMARY KEY (span, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX span_person_person ON span_person (person);
CREATE VIEW item_words AS SELECT item.id AS id, 'waiting for ' || item.kind || char(10) || item.words || char(10)
    || ifnull(item_closing.words, '') AS body
  FROM item LEFT JOIN item_closing ON item_closing.item = item.id;
CREATE TRIGGER item_closing_found AFTER INSERT ON item_closing BEGIN
  UPDATE search SET body = (SELECT body FROM item_words WHERE id = NEW.item) WHERE rowid = NEW.item * 16 + 2;
END;
CREATE TRIGGER item_closing_refound AFTER UPDATE ON item_closing BEGIN
  UPDATE search SET body = (SELECT body FROM item_words WHERE id = NEW.item) WHERE rowid = NEW.item * 16 + 2;
END;
CREATE TRIGGER item_closing_lost AFTER DELETE ON item_closing BEGIN
  UPDATE search SET body = ifnull((SELECT body FROM item_words WHERE id = OLD.item), '')
    WHERE rowid = OLD.item * 16 + 2;
END;
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
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 1, NEW.note);
END;
CREATE TRIGGER mark_refound AFTER UPDATE ON mark BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 1;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 1, NEW.note);
END;
CREATE TRIGGER mark_lost AFTER DELETE ON mark BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 1;
END;
CREATE TRIGGER item_found AFTER INSERT ON item BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 2, (SELECT body FROM item_words WHERE id = NEW.id));
END;
CREATE TRIGGER item_refound AFTER UPDATE ON item BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 2;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 2, (SELECT body FROM item_words WHERE id = NEW.id));
END;
CREATE TRIGGER item_lost AFTER DELETE ON item BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 2;
END;
CREATE TRIGGER inspection_found AFTER INSERT ON inspection BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 4, NEW.person || char(10) || NEW.licence || char(10) || NEW.looked_at || char(10) || NEW.findings || char(10) || NEW.stage);
END;
CREATE TRIGGER inspection_refound AFTER UPDATE ON inspection BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 4;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 4, NEW.person || char(10) || NEW.licence || char(10) || NEW.looked_at || char(10) || NEW.findings || char(10) || NEW.stage);
END;
CREATE TRIGGER inspection_lost AFTER DELETE ON inspection BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 4;
END;
CREATE TRIGGER photo_found AFTER INSERT ON photo BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 5, NEW.camera || char(10) || NEW.note);
END;
CREATE TRIGGER photo_refound AFTER UPDATE ON photo BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 5;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 5, NEW.camera || char(10) || NEW.note);
END;
CREATE TRIGGER photo_lost AFTER DELETE ON photo BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 5;
END;
CREATE TRIGGER session_found AFTER INSERT ON session BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 6, NEW.place || char(10) || NEW.note);
END;
CREATE TRIGGER session_refound AFTER UPDATE ON session BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 6;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 6, NEW.place || char(10) || NEW.note);
END;
CREATE TRIGGER session_lost AFTER DELETE ON session BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 6;
END;
CREATE TRIGGER amendment_found AFTER INSERT ON amendment BEGIN
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 7, NEW.reason || char(10) || NEW.before || char(10) || NEW.after);
END;
CREATE TRIGGER amendment_refound AFTER UPDATE ON amendment BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 7;
  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + 7, NEW.reason || char(10) || NEW.before || char(10) || NEW.after);
END;
CREATE TRIGGER amendment_lost AFTER DELETE ON amendment BEGIN
  DELETE FROM search WHERE rowid = OLD.id * 16 + 7;
END;
CREATE TRIGGER span_lost AFTER DELETE ON span BEGIN DELETE FROM search WHERE rowid = OLD.id * 16; END;
CREATE TRIGGER span_person_refound AFTER UPDATE ON span_person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id IN (OLD.span, NEW.span));
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id IN (OLD.span, NEW.span));
END;
CREATE TRIGGER span_fastener_refound AFTER UPDATE ON span_fastener BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id IN (OLD.span, NEW.span));
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id IN (OLD.span, NEW.span));
END;
CREATE TRIGGER span_found AFTER INSERT ON span BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.id);
END;
CREATE TRIGGER span_refound AFTER UPDATE ON span BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.id);
END;
CREATE TRIGGER span_person_found AFTER INSERT ON span_person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = NEW.span);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.span);
END;
CREATE TRIGGER span_person_lost AFTER DELETE ON span_person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = OLD.span);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = OLD.span);
END;
CREATE TRIGGER span_fastener_found AFTER INSERT ON span_fastener BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = NEW.span);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = NEW.span);
END;
CREATE TRIGGER span_fastener_lost AFTER DELETE ON span_fastener BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id = OLD.span);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id = OLD.span);
END;
CREATE TRIGGER task_refound AFTER UPDATE OF title, assembly ON task BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE task = NEW.id);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE task = NEW.id);
END;
CREATE TRIGGER person_refound AFTER UPDATE OF name ON person BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE id IN (SELECT span FROM span_person WHERE person = NEW.id));
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE id IN (SELECT span FROM span_person WHERE person = NEW.id));
END;
CREATE TRIGGER assembly_refound AFTER UPDATE OF name, parent ON assembly BEGIN
  DELETE FROM search WHERE rowid IN (SELECT id * 16 FROM span WHERE task IS NOT NULL);
  INSERT INTO search (rowid, body) SELECT id * 16, body FROM span_words WHERE id IN (SELECT id FROM span WHERE task IS NOT NULL);
END;
CREATE TRIGGER sealed_insert_span_person BEFORE INSERT ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_span_person BEFORE UPDATE ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = NEW.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_span_person BEFORE DELETE ON span_person WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM span WHERE id = OLD.span)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_inspection BEFORE INSERT ON inspection WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_inspection BEFORE UPDATE ON inspection WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_inspection BEFORE DELETE ON inspection WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_item BEFORE INSERT ON item WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_item BEFORE UPDATE ON item WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_item BEFORE DELETE ON item WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_item_closing BEFORE INSERT ON item_closing WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_item_closing BEFORE UPDATE ON item_closing WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_item_closing BEFORE DELETE ON item_closing WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_photo BEFORE INSERT ON photo WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_photo BEFORE UPDATE OF id, session, size_bytes, digest, camera, source, kind, edge, since_epoch_ns, resolution_ns, clock_text, at_ns, sigma_ns, note ON photo WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_photo BEFORE DELETE ON photo WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_insert_still BEFORE INSERT ON still WHEN EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_still BEFORE UPDATE ON still WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) OR EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_still BEFORE DELETE ON still WHEN EXISTS (SELECT 1 FROM entry WHERE session = OLD.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_inspection_clearing BEFORE UPDATE ON inspection_clearing WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM inspection WHERE id = OLD.inspection)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM inspection WHERE id = NEW.inspection)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_inspection_clearing BEFORE DELETE ON inspection_clearing WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM inspection WHERE id = OLD.inspection)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER once_inspection_clearing BEFORE INSERT ON inspection_clearing WHEN EXISTS (SELECT 1 FROM inspection_clearing WHERE inspection = NEW.inspection) AND EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM inspection WHERE id = NEW.inspection)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_update_let_go BEFORE UPDATE ON let_go WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) OR EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER sealed_delete_let_go BEFORE DELETE ON let_go WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = OLD.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER once_let_go BEFORE INSERT ON let_go WHEN EXISTS (SELECT 1 FROM let_go WHERE clip = NEW.clip) AND EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM clip WHERE id = NEW.clip)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER closed_update_item BEFORE UPDATE ON item WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM item_closing WHERE item = OLD.id)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER closed_delete_item BEFORE DELETE ON item WHEN EXISTS (SELECT 1 FROM entry WHERE session = (SELECT session FROM item_closing WHERE item = OLD.id)) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER amendment_kept BEFORE DELETE ON amendment BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER amendment_unaltered BEFORE UPDATE ON amendment BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER signature_kept BEFORE DELETE ON signature BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER signature_unaltered BEFORE UPDATE ON signature BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER once_entry BEFORE INSERT ON entry WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id OR session = NEW.session OR number = NEW.number) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER once_amendment BEFORE INSERT ON amendment WHEN EXISTS (SELECT 1 FROM amendment WHERE id = NEW.id OR number = NEW.number) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER once_signature BEFORE INSERT ON signature WHEN EXISTS (SELECT 1 FROM signature WHERE number = NEW.number AND public_key = NEW.public_key) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
CREATE TRIGGER amendment_of_sealed BEFORE INSERT ON amendment WHEN NOT EXISTS (SELECT 1 FROM entry WHERE session = NEW.session) BEGIN SELECT RAISE(ABORT, 'jigtime: sealed'); END;
)sql";

/// The edit in it moved the build from "Shed 3" to "Shed 4" and planned the one line.
inline constexpr std::string_view format_2_rows = R"sql(
INSERT INTO build VALUES (1, 'Two-seat low wing', 'X-TEST', 'Shed 4', 'Pacific/Chatham', 'tenth_hour', 'island');
INSERT INTO person VALUES (1, 'Ana', 'builder', 0, NULL), (2, 'Bo', 'helper', 0, NULL);
INSERT INTO assembly VALUES (1, NULL, 'Tail', '', 0, NULL), (2, 1, 'Elevator, left', '07', 0, NULL);
INSERT INTO checklist VALUES (1, 'starter', 'Metal aircraft', 'Ours.', 0);
INSERT INTO checklist_line VALUES (1, 1, 0, 'E4', 'Skins', 'Empennage', 1, 4, 1, 3, 2);
INSERT INTO task VALUES (1, 'Rivet the skin', 2, '07', '3a', NULL, 1, 0, NULL);
INSERT INTO planned VALUES (1, 1, 'MS20426AD3-4.5', 40);
INSERT INTO camera VALUES (1, 'bench');
INSERT INTO session VALUES (1, '2026-03-14', 1773475200000000005, 1, 'Cold shed.', 'Hangar 2'), (2, '2026-03-15', NULL, NULL, '', '');
INSERT INTO span VALUES (1, 1, 'work', 300000000000, 3000000000000, 1, 'Skin oil-cans.', 0),
                        (2, 2, 'work', 0, 60000000000, 1, 'After the seal.', 1);
INSERT INTO span_person VALUES (1, 0, 1), (1, 1, 2), (2, 0, 2);
INSERT INTO span_fastener VALUES (1, 0, 'MS20426AD3-4.5', 'squeezed', 31, 1);
INSERT INTO mark VALUES (1, 1, 720000000000, 'First rivet.');
INSERT INTO item VALUES (1, 'redo', 'Rib 4 again.', '2026-03-14', 1, 720000000000, 1, 1);
INSERT INTO item_closing VALUES (1, '2026-03-14', 1, 1, 'Done at once.');
INSERT INTO inspection VALUES (1, '2026-03-14', 'R. Vane', 'TC 4711', 'Lower side.', 'One low head.', 'closing', 1, 2400000000000);
INSERT INTO entry VALUES (1, 1, 1, 0, 'x', '0000000000000000000000000000000000000000000000000000000000000000', '1111111111111111111111111111111111111111111111111111111111111111');
INSERT INTO amendment VALUES (1, 1, 2, 0, 'Counted again.', '31 set', '30 set', 'y', '1111111111111111111111111111111111111111111111111111111111111111', '2222222222222222222222222222222222222222222222222222222222222222');
INSERT INTO search (rowid, body) VALUES (19, 'Entry words');
INSERT INTO edit VALUES (1, 5, 'plan', x'5407010000000000006275696c64001700010000000000000001000003065368656420330000000000000306536865642034000000540401000000706c616e6e6564001200010000000000000001010000000000000001030e4d5332303432364144332d342e35010000000000000028', 'ana', 'edit', NULL);
PRAGMA application_id = 1248421716;
PRAGMA user_version = 2;
)sql";
// clang-format on

}  // namespace jigtime::test
