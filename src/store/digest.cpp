#include <sodium.h>

#include <array>

#include "base/text.h"
#include "store/store.h"

namespace jigtime::store {

std::string sha256_hex(std::string_view bytes) {
  std::array<std::uint8_t, crypto_hash_sha256_BYTES> digest{};
  // NOLINTNEXTLINE: libsodium takes bytes as unsigned char.
  crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  return to_hex(digest);
}

}  // namespace jigtime::store
