// Sealing a session's entry, and checking the chain of them.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct Sealed {
  journal::Entry entry;
  std::vector<std::string> notes;  ///< what the builder may have overlooked: clips without a place, untagged footage
};

/// Writes the session's entry and makes the session immutable. `now` is stamped into it. Errors: conflict (sealed
/// already), the store's.
Result<Sealed> seal_session(store::Store& store, journal::SessionId session, WallTime now);

/// Appends to the sealed session's entry that something in it is wrong: what it says, what holds, and why. Both stay.
/// Errors: conflict (not sealed), invalid (no reason, nothing new), the store's.
Result<journal::Entry> amend_session(store::Store& store, journal::SessionId session, const std::string& before,
                                     const std::string& after, const std::string& reason, WallTime now);

/// Makes a key pair in a new file that only its owner may read, outside any journal. Returns the public key, in
/// hexadecimal. invalid when the file is there already.
Result<std::string> make_key(const std::filesystem::path& file);
/// The public key of a key file: what others check signatures by.
Result<std::string> public_key(const std::filesystem::path& file);
/// Signs an entry (and by its chain all before it) with the key in the file. Errors: not_found, conflict (signed by
/// that key already), unreadable (no key).
Result<journal::Signature> sign_entry(store::Store& store, int number, const std::filesystem::path& key_file);

struct Verification {
  int entries = 0;                             ///< sealings and amendments
  std::vector<std::string> faults;             ///< what does not fit, first things first: whole sentences
  std::vector<std::filesystem::path> missing;  ///< footage of sealed sessions that is not where it was
  std::vector<std::string> renamed;            ///< what is called otherwise since: whole sentences, no faults
  std::vector<std::string> let_go;             ///< footage that was given up on purpose: whole sentences, no faults
  struct Signed {
    int number = 0;
    std::string public_key;
  };
  std::vector<Signed> signed_by;  ///< signatures that are right; wrong ones are faults
  bool sound() const { return faults.empty(); }
};

/// Checks the file's integrity, the chain, signatures, every entry against the record it was made from, kept stills,
/// and footage and photos that are there against their digests.
Result<Verification> verify_journal(const store::Store& store, const Watch& watch);

}  // namespace jigtime::actions
