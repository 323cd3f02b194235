#include "store/schema_private.h"

namespace jigtime::store {
namespace {

std::string with_row(std::string_view session, std::string_view row) {
  std::string text{session};
  if (const std::size_t at = text.find("ROW"); at != std::string::npos) text.replace(at, 3, row);
  return text;
}

}  // namespace

const std::string_view span_words_view = R"sql(
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
)sql";

std::string refound(const std::string& kinds, const std::string& name, const std::string& event,
                    const std::string& spans) {
  return "CREATE TRIGGER " + name + " AFTER " + event +
         " BEGIN\n"
         "  DELETE FROM search WHERE rowid IN (SELECT id * " +
         kinds + " FROM span WHERE " + spans +
         ");\n"
         "  INSERT INTO search (rowid, body) SELECT id * " +
         kinds + ", body FROM span_words WHERE id IN (SELECT id FROM span WHERE " + spans + ");\nEND;\n";
}

std::string span_triggers(const std::string& kinds) {
  return refound(kinds, "span_found", "INSERT ON span", "id = NEW.id") +
         refound(kinds, "span_refound", "UPDATE ON span", "id = NEW.id") +
         refound(kinds, "span_person_found", "INSERT ON span_person", "id = NEW.span") +
         refound(kinds, "span_person_lost", "DELETE ON span_person", "id = OLD.span") +
         refound(kinds, "span_fastener_found", "INSERT ON span_fastener", "id = NEW.span") +
         refound(kinds, "span_fastener_lost", "DELETE ON span_fastener", "id = OLD.span") +
         refound(kinds, "task_refound", "UPDATE OF title, assembly ON task", "task = NEW.id") +
         refound(kinds, "person_refound", "UPDATE OF name ON person",
                 "id IN (SELECT span FROM span_person WHERE person = NEW.id)") +
         refound(kinds, "assembly_refound", "UPDATE OF name, parent ON assembly", "task IS NOT NULL");
}

std::string refusal(const std::string& name, const std::string& event, const std::string& when) {
  return "CREATE TRIGGER " + name + " BEFORE " + event + (when.empty() ? "" : " WHEN " + when) +
         " BEGIN SELECT RAISE(ABORT, '" + std::string{sealed_signal} + "'); END;\n";
}

std::string sealed(std::string_view session, std::string_view row) {
  return "EXISTS (SELECT 1 FROM entry WHERE session = " + with_row(session, row) + ")";
}

std::string seal_triggers(std::span<const Owner> owners) {
  std::string sql;
  for (const Owner& owner : owners) {
    const std::string table{owner.table};
    // A file may be found again at another path: nothing else about it may change.
    std::string update = "UPDATE ON " + table;
    if (table == "part") update = "UPDATE OF id, clip, position, size_bytes, digest, clip_from_ns, length_ns ON part";
    if (table == "photo") {
      update =
          "UPDATE OF id, session, size_bytes, digest, camera, source, kind, edge, since_epoch_ns, resolution_ns, "
          "clock_text, at_ns, sigma_ns, note ON photo";
    }
    if (table != "session")
      sql += refusal("sealed_insert_" + table, "INSERT ON " + table, sealed(owner.session, "NEW"));
    sql +=
        refusal("sealed_update_" + table, update, sealed(owner.session, "OLD") + " OR " + sealed(owner.session, "NEW"));
    sql += refusal("sealed_delete_" + table, "DELETE ON " + table, sealed(owner.session, "OLD"));
  }
  return sql;
}

}  // namespace jigtime::store
