#include "actions/hours_out.h"

#include <algorithm>
#include <map>
#include <system_error>

#include "actions/running_table.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "report/report.h"
#include "report/rounding.h"

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

/// Rows of entries that this journal does not have: the table runs for another one.
Done check_same_journal(const fs::path& file, const RunningTable& running, const std::vector<journal::Entry>& entries) {
  for (const auto& [digest, sum] : running.entries()) {
    const auto here =
        std::find_if(entries.begin(), entries.end(), [&](const auto& entry) { return entry.digest == digest; });
    const std::string name = "\"" + to_utf8(file.string()) + "\"";
    if (here == entries.end()) {
      return Error{Code::conflict, name + " has rows of an entry with the digest " + to_utf8(digest) +
                                       ", which this journal does not have. It runs for another journal; name another "
                                       "file."};
    }
    if (here->number != sum.entry) {
      return Error{Code::conflict, name + ", line " + std::to_string(sum.line) + ": the digest is that of entry " +
                                       std::to_string(here->number) + ", not " + std::to_string(sum.entry) +
                                       "; the table was changed. Put a whole one in its place, or name a file that is "
                                       "not there yet; it will be made."};
    }
  }
  return {};
}

/// Whole ones, as the rows of the table add up to.
std::int64_t seconds_of(const journal::Hours& hours) {
  Length worked{0};
  for (const journal::HoursRow& row : hours.rows) worked += row.worked;
  return report::shown_length(worked, journal::Rounding::none) / std::chrono::seconds{1};
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
  auto running = RunningTable::read(file);
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
    if (const auto there = running->entries().find(entry.digest); there != running->entries().end()) {
      ++appended.known_already;
      // More rows than there are may be right: two tasks may have become one since.
      if (there->second.rows < hours.rows.size()) {
        appended.incomplete.push_back(entry.number);
      } else if (there->second.seconds != seconds_of(hours)) {
        appended.differing.push_back(entry.number);
      }
    } else if (!hours.rows.empty()) {
      fresh += report::sealed_hours_rows(entry, sealed.session, ground->known, hours, ground->build.rounding);
      appended.rows += static_cast<int>(hours.rows.size());
      ++appended.sessions;
    }
  }
  for (const auto& [id, record] : records) appended.waiting += journal::count_hours(*record).rows.empty() ? 0 : 1;
  if (fresh.empty() && !running->is_new()) return appended;
  std::error_code unknown;
  const fs::path place = fs::is_symlink(file, unknown) ? fs::weakly_canonical(file, unknown) : file;
  if (Done written = write_whole(unknown ? file : place, running->with(fresh)); !written) return written.error();
  return appended;
}

}  // namespace jigtime::actions
