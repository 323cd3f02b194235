#include <map>
#include <system_error>

#include "actions/footage.h"
#include "actions/sealing.h"
#include "base/text.h"
#include "journal/seal.h"
#include "journal/sealed_facts.h"
#include "media/probe.h"
#include "store/signing.h"

namespace jigtime::actions {
namespace {

/// What is read once for all entries.
struct Ground {
  journal::Build build;
  journal::Register known;
  std::vector<journal::Entry> entries;
  std::vector<journal::Signature> signatures;
};

Result<Ground> read_ground(const store::Store& store) {
  auto build = store.build();
  if (!build) return build.error();
  auto known = store.known();
  if (!known) return known.error();
  auto entries = store.entries();
  if (!entries) return entries.error();
  auto signatures = store.signatures();
  if (!signatures) return signatures.error();
  return Ground{*std::move(build), *std::move(known), *std::move(entries), *std::move(signatures)};
}

void check_file(const std::filesystem::path& path, const FileIdentity& sealed, Verification& found) {
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) {
    found.missing.push_back(path);
    return;
  }
  const auto identity = media::identify(path);
  if (!identity) {
    found.faults.push_back(path.filename().string() + " could not be checked: " + identity.error().message());
  } else if (*identity != sealed) {
    found.faults.push_back("The footage in \"" + path.string() + "\" is no longer the file that was sealed.");
  }
}

void check_clip(const journal::Clip& clip, Verification& found) {
  for (const journal::Part& part : clip.parts) {
    std::error_code ignored;
    if (clip.let_go && !std::filesystem::exists(part.path, ignored)) {
      found.let_go.push_back(source_of(clip, part).error().message());
    } else {
      check_file(part.path, part.identity, found);
    }
  }
  if (clip.let_go && clip.let_go->kept_is) check_file(clip.let_go->kept_copy, *clip.let_go->kept_is, found);
}

Done check_stills(const store::Store& store, const journal::SessionRecord& record, Verification& found) {
  for (const journal::Still& still : record.stills) {
    const auto bytes = store.still_bytes(still.id);
    if (!bytes) return bytes.error();
    if (store::sha256_hex(*bytes) == still.digest) continue;
    found.faults.push_back("The still at " + to_clock_text(still.at) + " of " + to_text(record.session.date) +
                           " is no longer the picture that was sealed.");
  }
  return {};
}

Done check_entry(const store::Store& store, const Ground& ground, const journal::Entry& entry, Verification& found) {
  const auto record = store.record(entry.session);
  if (!record) return record.error();
  journal::Comparison comparison = journal::compare(entry, ground.build, ground.known, *record);
  if (comparison.fault) found.faults.push_back(*comparison.fault);
  for (std::string& sentence : comparison.renamed) {
    found.renamed.push_back("Entry " + std::to_string(entry.number) + ": " + sentence);
  }
  if (Done stills = check_stills(store, *record, found); !stills) return stills;
  for (const journal::Clip& clip : record->clips) check_clip(clip, found);
  for (const journal::Photo& photo : record->photos) check_file(photo.path, photo.identity, found);
  return {};
}

void check_signatures(const Ground& ground, Verification& found) {
  std::map<int, std::string> digests;
  for (const journal::Entry& entry : ground.entries) digests[entry.number] = entry.digest;
  for (const journal::Signature& signature : ground.signatures) {
    const auto digest = digests.find(signature.number);
    if (digest != digests.end() && store::is_signed(signature.public_key, digest->second, signature.signature)) {
      found.signed_by.push_back({signature.number, signature.public_key});
    } else {
      found.faults.push_back("A signature beside entry " + std::to_string(signature.number) +
                             " was not made for it by the key it names.");
    }
  }
}

}  // namespace

Result<Verification> verify_journal(const store::Store& store, const Watch& watch) {
  const auto ground = read_ground(store);
  if (!ground) return ground.error();
  const auto integrity = store.integrity();
  if (!integrity) return integrity.error();
  Verification found;
  found.entries = static_cast<int>(ground->entries.size());
  for (const std::string& line : *integrity) found.faults.push_back("The journal file is damaged: " + line);
  if (const auto fault = journal::first_fault(ground->entries, store::sha256_hex)) found.faults.push_back(fault->what);
  for (std::size_t i = 0; i < ground->entries.size(); ++i) {
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "The check was stopped."};
    const journal::Entry& entry = ground->entries[i];
    if (entry.kind == journal::EntryKind::amendment) continue;
    watch.tell(static_cast<double>(i) / static_cast<double>(ground->entries.size()),
               "checking entry " + std::to_string(entry.number));
    if (Done checked = check_entry(store, *ground, entry, found); !checked) return checked.error();
  }
  check_signatures(*ground, found);
  return found;
}

}  // namespace jigtime::actions
