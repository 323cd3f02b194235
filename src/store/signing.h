// Key pairs that sign entries: Ed25519 (RFC 8032), libsodium's.
// Must never know: the journal file. A key lives in a file of its own.
//
// What is signed are the ASCII bytes "jigtime entry " and the entry's digest in hexadecimal, so anybody can check a
// signature from the exported public key with any program that knows Ed25519.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"

namespace jigtime::store {

struct KeyPair {
  std::string public_key;  ///< hex, 32 bytes
  std::string seed;        ///< hex, 32 bytes; secret
};

/// Makes a new pair and the file that holds it, readable by its owner alone. invalid when the file is there already.
Result<KeyPair> make_key_file(const std::filesystem::path& path);
/// not_found, denied, or unreadable when it holds no key, or one whose halves do not belong together.
Result<KeyPair> read_key_file(const std::filesystem::path& path);

/// Hex, 64 bytes. Precondition: a pair made or read by these functions.
std::string sign(const KeyPair& key, std::string_view digest);
/// False for anything that is no signature of that digest by that key.
bool is_signed(std::string_view public_key, std::string_view digest, std::string_view signature);

}  // namespace jigtime::store
