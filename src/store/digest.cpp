#include "store/digest.h"

#include <sodium.h>

#include <array>

#include "base/text.h"
#include "store/store.h"

namespace jigtime::store {
namespace {

/// libsodium takes bytes as unsigned char.
const unsigned char* bytes_of(std::string_view bytes) {
  return reinterpret_cast<const unsigned char*>(bytes.data());  // NOLINT
}

}  // namespace

struct Sha256::State {
  crypto_hash_sha256_state sodium;
};

Sha256::Sha256() : state_{std::make_unique<State>()} { crypto_hash_sha256_init(&state_->sodium); }
Sha256::~Sha256() = default;

void Sha256::add(std::string_view bytes) { crypto_hash_sha256_update(&state_->sodium, bytes_of(bytes), bytes.size()); }

std::string Sha256::hex() {
  std::array<std::uint8_t, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256_final(&state_->sodium, digest.data());
  return to_hex(digest);
}

std::string sha256_hex(std::string_view bytes) {
  std::array<std::uint8_t, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256(digest.data(), bytes_of(bytes), bytes.size());
  return to_hex(digest);
}

}  // namespace jigtime::store
