#include "store/schema_private.h"

namespace jigtime::store {
namespace {

/// People, tasks and assemblies that are put away or merged, checklists, inspections, what waits, photos and stills,
/// footage let go, amendments, signatures, and who did what.
constexpr std::string_view tables_2 = R"sql(
ALTER TABLE build ADD COLUMN regime TEXT NOT NULL DEFAULT '';
ALTER TABLE session ADD COLUMN place TEXT NOT NULL DEFAULT '';
ALTER TABLE span ADD COLUMN off_camera INTEGER NOT NULL DEFAULT 0 CHECK (off_camera IN (0, 1));

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

ALTER TABLE person ADD COLUMN archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1));
ALTER TABLE person ADD COLUMN merged INTEGER REFERENCES person;
ALTER TABLE assembly ADD COLUMN plan_sheet TEXT NOT NULL DEFAULT '';
ALTER TABLE assembly ADD COLUMN archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1));
ALTER TABLE assembly ADD COLUMN merged INTEGER REFERENCES assembly;
ALTER TABLE task ADD COLUMN parent INTEGER REFERENCES task;
ALTER TABLE task ADD COLUMN checklist_line INTEGER REFERENCES checklist_line;
ALTER TABLE task ADD COLUMN archived INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1));
ALTER TABLE task ADD COLUMN merged INTEGER REFERENCES task;
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

ALTER TABLE edit ADD COLUMN who TEXT NOT NULL DEFAULT '';
ALTER TABLE edit ADD COLUMN deed TEXT NOT NULL DEFAULT 'edit' CHECK (deed IN ('edit', 'undo', 'redo'));
ALTER TABLE edit ADD COLUMN target INTEGER REFERENCES edit;
)sql";

/// Two people of a span may change places in one edit, and an undo brings rows back one by one: "each once" is a rule
/// of the record and no longer one of the table.
constexpr std::string_view span_person_2 = R"sql(
ALTER TABLE span_person RENAME TO span_person_1;
CREATE TABLE span_person (
  span INTEGER NOT NULL REFERENCES span ON DELETE CASCADE, position INTEGER NOT NULL,
  person INTEGER NOT NULL REFERENCES person, PRIMARY KEY (span, position)
) STRICT, WITHOUT ROWID;
INSERT INTO span_person SELECT span, position, person FROM span_person_1;
DROP TABLE span_person_1;
CREATE INDEX span_person_person ON span_person (person);
)sql";

/// The row's number is that of what it describes times 16 (see schema.h).
constexpr std::string_view search_2 = R"sql(
CREATE TEMP TABLE moved AS SELECT rowid AS id, body FROM search;
DELETE FROM search;
INSERT INTO search (rowid, body) SELECT id / 4 * 16 + id % 4, body FROM moved;
DROP TABLE moved;
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
)sql";

/// Rows whose words stand in themselves.
struct Written {
  std::string_view table;
  std::string_view kind;
  std::string_view body;
};

constexpr Written written_2[] = {
    {"mark", "1", "NEW.note"},
    {"item", "2", "(SELECT body FROM item_words WHERE id = NEW.id)"},
    {"inspection", "4",
     "NEW.person || char(10) || NEW.licence || char(10) || NEW.looked_at || char(10) || NEW.findings || char(10) || "
     "NEW.stage"},
    {"photo", "5", "NEW.camera || char(10) || NEW.note"},
    {"session", "6", "NEW.place || char(10) || NEW.note"},
    {"amendment", "7", "NEW.reason || char(10) || NEW.before || char(10) || NEW.after"},
};

/// The view and the triggers that write the search rows of format 1.
std::string without_search_1() {
  std::string sql = "DROP VIEW span_words;\n";
  for (const std::string name : {"mark_found", "mark_refound", "mark_lost", "span_lost", "span_found", "span_refound",
                                 "span_person_found", "span_person_lost", "span_fastener_found", "span_fastener_lost",
                                 "task_refound", "person_refound", "assembly_refound"}) {
    sql += "DROP TRIGGER " + name + ";\n";
  }
  return sql;
}

std::string search_triggers_2() {
  std::string sql{span_words_view};
  for (const Written& row : written_2) {
    const std::string table{row.table};
    const std::string lost = "  DELETE FROM search WHERE rowid = OLD.id * 16 + " + std::string{row.kind} + ";\n";
    const std::string found = "  INSERT INTO search (rowid, body) VALUES (NEW.id * 16 + " + std::string{row.kind} +
                              ", " + std::string{row.body} + ");\n";
    sql += "CREATE TRIGGER " + table + "_found AFTER INSERT ON " + table + " BEGIN\n" + found + "END;\n";
    sql += "CREATE TRIGGER " + table + "_refound AFTER UPDATE ON " + table + " BEGIN\n" + lost + found + "END;\n";
    sql += "CREATE TRIGGER " + table + "_lost AFTER DELETE ON " + table + " BEGIN\n" + lost + "END;\n";
  }
  sql += "CREATE TRIGGER span_lost AFTER DELETE ON span BEGIN DELETE FROM search WHERE rowid = OLD.id * 16; END;\n";
  sql += "INSERT INTO search (rowid, body) SELECT id * 16 + 6, place || char(10) || note FROM session;\n";
  // Rows of a span are changed in place by a merge and by an undo.
  sql += refound("16", "span_person_refound", "UPDATE ON span_person", "id IN (OLD.span, NEW.span)");
  sql += refound("16", "span_fastener_refound", "UPDATE ON span_fastener", "id IN (OLD.span, NEW.span)");
  return sql + span_triggers("16");
}

constexpr Owner owners_2[] = {
    {"span_person", of_span},        {"inspection", "ROW.session"}, {"item", "ROW.session"},
    {"item_closing", "ROW.session"}, {"photo", "ROW.session"},      {"still", "ROW.session"},
};

/// What may come to a sealed session later, but never changes once it is there.
constexpr Owner later_2[] = {
    {"inspection_clearing", "(SELECT session FROM inspection WHERE id = ROW.inspection)"},
    {"let_go", of_clip},
};

/// Without triggers that answer to each other (a setting of the connection) a REPLACE would delete unseen.
std::string once_only(const std::string& table, const std::string& same, const std::string& when) {
  return refusal("once_" + table, "INSERT ON " + table,
                 "EXISTS (SELECT 1 FROM " + table + " WHERE " + same + ")" + (when.empty() ? "" : " AND " + when));
}

std::string seal_triggers_2() {
  std::string sql = seal_triggers(owners_2);
  for (const Owner& owner : later_2) {
    const std::string table{owner.table};
    const std::string key = table == "let_go" ? "clip" : "inspection";
    sql += refusal("sealed_update_" + table, "UPDATE ON " + table,
                   sealed(owner.session, "OLD") + " OR " + sealed(owner.session, "NEW"));
    sql += refusal("sealed_delete_" + table, "DELETE ON " + table, sealed(owner.session, "OLD"));
    sql += once_only(table, key + " = NEW." + key, sealed(owner.session, "NEW"));
  }
  // The words of an item are sealed with the span that closed it, wherever it was opened.
  const std::string closed = sealed("(SELECT session FROM item_closing WHERE item = ROW.id)", "OLD");
  sql +=
      refusal("closed_update_item", "UPDATE ON item", closed) + refusal("closed_delete_item", "DELETE ON item", closed);
  for (const std::string table : {"amendment", "signature"}) {
    sql += refusal(table + "_kept", "DELETE ON " + table, "") + refusal(table + "_unaltered", "UPDATE ON " + table, "");
  }
  sql += once_only("entry", "id = NEW.id OR session = NEW.session OR number = NEW.number", "");
  sql += once_only("amendment", "id = NEW.id OR number = NEW.number", "");
  sql += once_only("signature", "number = NEW.number AND public_key = NEW.public_key", "");
  return sql + refusal("amendment_of_sealed", "INSERT ON amendment",
                       "NOT EXISTS (SELECT 1 FROM entry WHERE session = NEW.session)");
}

}  // namespace

std::string to_format_2() {
  return without_search_1() + std::string{tables_2} + std::string{span_person_2} + std::string{search_2} +
         search_triggers_2() + seal_triggers_2();
}

}  // namespace jigtime::store
