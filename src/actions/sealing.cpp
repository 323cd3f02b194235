#include "actions/sealing.h"

#include "actions/spoken.h"
#include "base/text.h"
#include "journal/hours.h"
#include "journal/seal.h"
#include "store/signing.h"

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
    journal::Entry entry = journal::next_entry(*entries, *build, *known, *record, now, store::sha256_hex);
    const auto added = edit.add(entry);
    if (!added) return added.error();
    entry.id = *added;
    sealed.entry = std::move(entry);
    return {};
  });
  if (!done) return done.error();
  return sealed;
}

Result<journal::Entry> amend_session(store::Store& store, journal::SessionId id, const std::string& before,
                                     const std::string& after, const std::string& reason, WallTime now) {
  const auto record = store.record(id);
  if (!record) return record.error();
  if (!record->entry) {
    return Error{Code::conflict, "The session of " + to_text(record->session.date) +
                                     " is not sealed. Change what is wrong instead of amending it."};
  }
  std::optional<journal::Entry> made;
  const Done done = store.edit("amend an entry", [&](store::Edit& edit) -> Done {
    const auto entries = store.entries();
    if (!entries) return entries.error();
    journal::Entry amendment =
        journal::next_amendment(*entries, *record->entry, reason, before, after, now, store::sha256_hex);
    const auto added = edit.add(amendment);
    if (!added) return added.error();
    amendment.id = *added;
    made = std::move(amendment);
    return {};
  });
  if (!done) return done.error();
  return *made;
}

Result<std::string> make_key(const std::filesystem::path& file) {
  const auto key = store::make_key_file(file);
  if (!key) return key.error();
  return key->public_key;
}

Result<std::string> public_key(const std::filesystem::path& file) {
  const auto key = store::read_key_file(file);
  if (!key) return key.error();
  return key->public_key;
}

Result<journal::Signature> sign_entry(store::Store& store, int number, const std::filesystem::path& key_file) {
  const auto key = store::read_key_file(key_file);
  if (!key) return key.error();
  const auto entries = store.entries();
  if (!entries) return entries.error();
  for (const journal::Entry& entry : *entries) {
    if (entry.number != number) continue;
    journal::Signature signature{number, key->public_key, store::sign(*key, entry.digest)};
    const Done done = store.edit("sign an entry", [&](store::Edit& edit) { return edit.add(signature); });
    return done ? Result<journal::Signature>{signature} : done.error();
  }
  return Error{Code::not_found, "There is no entry " + std::to_string(number) + ". Seal a session first."};
}

}  // namespace jigtime::actions
