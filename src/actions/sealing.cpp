#include "actions/sealing.h"

#include <map>
#include <system_error>

#include "actions/spoken.h"
#include "base/text.h"
#include "journal/hours.h"
#include "journal/seal.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

std::vector<std::string> overlooked(const journal::SessionRecord& record) {
  std::vector<std::string> notes;
  for (const journal::Clip& clip : record.clips) {
    const journal::Placement* placement = record.placement(clip.id);
    if (placement == nullptr) {
      notes.push_back(clip.name() + " was never lined up.");
    } else if (placement->basis == journal::Basis::none) {
      notes.push_back(clip.name() + " has no place on the session clock.");
    }
  }
  if (record.spans.empty()) notes.emplace_back("Nothing was tagged: the entry holds no work.");
  const Length untagged = journal::count_hours(record).untagged;
  if (untagged > std::chrono::minutes{1}) notes.push_back(spoken(untagged) + " of footage are untagged.");
  return notes;
}

void check_footage(const journal::SessionRecord& record, Verification& found) {
  for (const journal::Clip& clip : record.clips) {
    for (const journal::Part& part : clip.parts) {
      std::error_code ignored;
      if (!std::filesystem::exists(part.path, ignored)) {
        found.missing.push_back(part.path);
        continue;
      }
      const auto identity = media::identify(part.path);
      if (!identity) {
        found.faults.push_back(part.path.filename().string() + " could not be checked: " + identity.error().message());
      } else if (*identity != part.identity) {
        found.faults.push_back("The footage in \"" + part.path.string() + "\" is no longer the file that was sealed.");
      }
    }
  }
}

}  // namespace

Result<Sealed> seal_session(store::Store& store, journal::SessionId id, WallTime now) {
  const auto record = store.record(id);
  if (!record) return record.error();
  if (record->entry) {
    return Error{Code::conflict, "The session of " + to_text(record->session.date) + " is sealed already, as entry " +
                                     std::to_string(record->entry->number) + "."};
  }
  const auto build = store.build();
  if (!build) return build.error();
  const auto known = store.known();
  if (!known) return known.error();

  Sealed sealed;
  sealed.notes = overlooked(*record);
  const Done done = store.edit("seal a session", [&](store::Edit& edit) -> Done {
    const auto entries = store.entries();
    if (!entries) return entries.error();
    journal::Entry entry;
    entry.session = id;
    entry.number = entries->empty() ? 1 : entries->back().number + 1;
    entry.sealed_at = now;
    entry.text = journal::canonical_text(*build, *known, *record);
    entry.previous = entries->empty() ? std::string(64, '0') : entries->back().digest;
    entry.digest = journal::chain_digest(entry.previous, entry.text, store::sha256_hex);
    const auto added = edit.add(entry);
    if (!added) return added.error();
    entry.id = *added;
    sealed.entry = std::move(entry);
    return {};
  });
  if (!done) return done.error();
  return sealed;
}

Result<Verification> verify_journal(const store::Store& store, const Watch& watch) {
  const auto build = store.build();
  if (!build) return build.error();
  const auto known = store.known();
  if (!known) return known.error();
  const auto entries = store.entries();
  if (!entries) return entries.error();
  const auto integrity = store.integrity();
  if (!integrity) return integrity.error();

  Verification found;
  found.entries = static_cast<int>(entries->size());
  for (const std::string& line : *integrity) found.faults.push_back("The journal file is damaged: " + line);
  if (const auto fault = journal::first_fault(*entries, store::sha256_hex)) found.faults.push_back(fault->what);
  for (std::size_t i = 0; i < entries->size(); ++i) {
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "The check was stopped."};
    const journal::Entry& entry = (*entries)[i];
    watch.tell(static_cast<double>(i) / static_cast<double>(entries->size()),
               "checking entry " + std::to_string(entry.number));
    const auto record = store.record(entry.session);
    if (!record) return record.error();
    journal::SessionRecord as_it_was = *record;
    as_it_was.entry.reset();
    if (journal::canonical_text(*build, *known, as_it_was) != entry.text) {
      found.faults.push_back("Entry " + std::to_string(entry.number) + " (" + to_text(record->session.date) +
                             ") no longer says what the journal holds of that session.");
    }
    check_footage(*record, found);
  }
  return found;
}

}  // namespace jigtime::actions
