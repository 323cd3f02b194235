// Everything a journal's record holds, as text that is the same for the same record.
#pragma once

#include <string>

#include "store/raw.h"
#include "store/schema.h"

namespace jigtime::test {

/// Every row of every table of the record, and of the search table, in order of their keys.
inline std::string canonical_dump(const std::filesystem::path& path) {
  Raw raw{path};
  std::string dump;
  const auto add = [&](const std::string& table, const std::string& columns, const std::string& order) {
    dump += table + "\n" +
            raw.value("SELECT group_concat(line, char(10)) FROM (SELECT " + columns + " AS line FROM " + table +
                      " ORDER BY " + order + ")") +
            "\n";
  };
  for (const std::string_view name : store::record_tables()) {
    const std::string table{name};
    const std::string info = "pragma_table_info('" + table + "')";
    add(table, raw.value("SELECT group_concat('quote(\"' || name || '\")', '|| '','' ||') FROM " + info),
        raw.value("SELECT group_concat('\"' || name || '\"') FROM (SELECT name FROM " + info +
                  " WHERE pk > 0 ORDER BY pk)"));
  }
  add("search", "rowid || ': ' || quote(body)", "rowid");
  return dump;
}

}  // namespace jigtime::test
