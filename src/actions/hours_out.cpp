#include "actions/hours_out.h"

#include <algorithm>
#include <map>
#include <system_error>

#include "actions/csv.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "report/report.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

struct Ground {
  journal::Build build;
  journal::Register known;
  std::vector<journal::SessionRecord> records;  ///< as Store::working_times, with what was merged named once
};

Result<Ground> read_ground(const store::Store& store) {
  auto build = store.build();
  if (!build) return build.error();
  auto known = store.known();
  if (!known) return known.error();
  auto records = store.working_times();
  if (!records) return records.error();
  for (journal::SessionRecord& record : *records) name_what_is_meant(record, *known);
  return Ground{*std::move(build), *std::move(known), *std::move(records)};
}

/// The running table as it is in the file.
struct Running {
  std::string bytes;
  std::map<std::string, std::size_t> rows;  ///< how many of the entry with that digest
};

Error not_ours(const fs::path& file) {
  return {Code::conflict, "\"" + to_utf8(file.string()) + "\" is no table of sealed hours: its first line is not \"" +
                              std::string{report::sealed_hours_header} +
                              "\". Name a file that is not there yet; it will be made."};
}

Error torn(const fs::path& file, int line) {
  return {Code::conflict, "\"" + to_utf8(file.string()) + "\", line " + std::to_string(line) +
                              ": the row is not whole; the table was cut off or changed. Put a whole one in its place, "
                              "or name a file that is not there yet; it will be made."};
}

Result<Running> read_running(const fs::path& file) {
  std::error_code ignored;
  if (!fs::exists(file, ignored)) return Running{};
  auto text = read_text(file);
  if (!text) return text.error();
  const auto rows = read_csv(*text);
  if (!rows) return rows.error().during(to_utf8(file.string()));
  if (rows->empty()) return Running{};
  // With other separators it would be read, but what is added would not fit to it.
  std::string header = text->substr(0, text->find_first_of("\r\n"));
  if (header.starts_with("\xEF\xBB\xBF")) header.erase(0, 3);
  std::erase(header, '"');
  if (header != report::sealed_hours_header) return not_ours(file);
  Running running{*std::move(text), {}};
  for (std::size_t i = 1; i < rows->size(); ++i) {
    const std::vector<std::string>& fields = (*rows)[i].fields;
    if (fields.size() == 1 && fields.front().empty()) continue;
    if (fields.size() != rows->front().fields.size()) return torn(file, (*rows)[i].line);
    ++running.rows[fields[1]];
  }
  return running;
}

/// Rows of entries that this journal does not have: the table runs for another one.
Done check_same_journal(const fs::path& file, const Running& running, const std::vector<journal::Entry>& entries) {
  for (const auto& [digest, rows] : running.rows) {
    const bool here =
        std::any_of(entries.begin(), entries.end(), [&](const auto& entry) { return entry.digest == digest; });
    if (here) continue;
    return Error{Code::conflict,
                 "\"" + to_utf8(file.string()) + "\" has rows of an entry with the digest " + to_utf8(digest) +
                     ", which this journal does not have. It runs for another journal; name another file."};
  }
  return {};
}

}  // namespace

Result<std::string> hours_table_csv(const store::Store& store, const HoursAsked& asked) {
  if (Done checked = check_asked(asked); !checked) return checked.error();
  auto ground = read_ground(store);
  if (!ground) return ground.error();
  std::vector<journal::Session> sessions;
  journal::Hours all;
  for (const journal::SessionRecord& record : ground->records) {
    const auto date = record.session.date;
    if ((asked.from && date < *asked.from) || (asked.to && date > *asked.to)) continue;
    sessions.push_back(record.session);
    const journal::Hours hours = journal::count_hours(record);
    all.rows.insert(all.rows.end(), hours.rows.begin(), hours.rows.end());
  }
  return report::hours_csv(sessions, ground->known, all, ground->build.rounding);
}

Result<Appended> append_sealed_hours(const store::Store& store, const fs::path& file) {
  auto ground = read_ground(store);
  if (!ground) return ground.error();
  const auto entries = store.entries();
  if (!entries) return entries.error();
  auto running = read_running(file);
  if (!running) return running.error();
  if (Done same = check_same_journal(file, *running, *entries); !same) return same.error();

  std::map<journal::SessionId, const journal::SessionRecord*> records;
  for (const journal::SessionRecord& record : ground->records) records[record.session.id] = &record;
  Appended appended;
  std::string fresh;
  for (const journal::Entry& entry : *entries) {
    const auto record = records.find(entry.session);
    if (entry.kind != journal::EntryKind::sealing || record == records.end()) continue;
    const journal::SessionRecord& sealed = *record->second;
    const journal::Hours hours = journal::count_hours(sealed);
    records.erase(record);
    if (const auto there = running->rows.find(entry.digest); there != running->rows.end()) {
      ++appended.known_already;
      // More than there are may be right: two tasks may have become one since.
      if (there->second < hours.rows.size()) appended.incomplete.push_back(entry.number);
    } else if (!hours.rows.empty()) {
      fresh += report::sealed_hours_rows(entry, sealed.session, ground->known, hours, ground->build.rounding);
      appended.rows += static_cast<int>(hours.rows.size());
      ++appended.sessions;
    }
  }
  for (const auto& [id, record] : records) appended.waiting += journal::count_hours(*record).rows.empty() ? 0 : 1;
  if (fresh.empty() && !running->bytes.empty()) return appended;
  std::string text = std::move(running->bytes);
  if (text.empty()) text = std::string{report::sealed_hours_header} + "\r\n";
  if (text.back() != '\n') text += "\r\n";
  std::error_code unknown;
  const fs::path place = fs::is_symlink(file, unknown) ? fs::weakly_canonical(file, unknown) : file;
  if (Done written = write_whole(unknown ? file : place, text + fresh); !written) return written.error();
  return appended;
}

}  // namespace jigtime::actions
