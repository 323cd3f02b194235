#include "store/signing.h"

#include <fcntl.h>
#include <sodium.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <fstream>

#include "base/text.h"
#include "store/failure_private.h"
#include "store/new_file_private.h"

namespace jigtime::store {
namespace {

using PublicKey = std::array<std::uint8_t, crypto_sign_PUBLICKEYBYTES>;
using SecretKey = std::array<std::uint8_t, crypto_sign_SECRETKEYBYTES>;
using Seed = std::array<std::uint8_t, crypto_sign_SEEDBYTES>;
using SignatureBytes = std::array<std::uint8_t, crypto_sign_BYTES>;

constexpr std::string_view first_line = "jigtime signing key 1";

/// False when the text is not exactly that many bytes in hexadecimal.
template <std::size_t size>
bool from_hex(std::string_view text, std::array<std::uint8_t, size>& bytes) {
  std::size_t read = 0;
  return text.size() == 2 * size &&
         sodium_hex2bin(bytes.data(), size, text.data(), text.size(), nullptr, &read, nullptr) == 0 && read == size;
}

KeyPair pair_of(const Seed& seed) {
  PublicKey public_key{};
  SecretKey secret{};
  crypto_sign_seed_keypair(public_key.data(), secret.data(), seed.data());
  sodium_memzero(secret.data(), secret.size());
  return {to_hex(public_key), to_hex(seed)};
}

std::string message_of(std::string_view digest) { return "jigtime entry " + std::string{digest}; }

const unsigned char* bytes_of(const std::string& text) {
  // NOLINTNEXTLINE: libsodium takes bytes as unsigned char.
  return reinterpret_cast<const unsigned char*>(text.data());
}

Error no_key(const std::filesystem::path& path) {
  return {Code::unreadable, shown(path) + " holds no signing key. Name a file that \"jigtime key\" made."};
}

Done write_secret(const std::filesystem::path& path, const std::string& text) {
  const int file = ::open(path.c_str(), O_WRONLY | O_TRUNC | O_CLOEXEC);
  if (file < 0) return denied(path);
  const bool written =
      ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size()) && ::fsync(file) == 0;
  ::close(file);
  if (written) return {};
  take_away(path);
  return Error{Code::no_space, "The key could not be written to " + shown(path) + ". Free some space and try again."};
}

}  // namespace

Result<KeyPair> make_key_file(const std::filesystem::path& given) {
  if (sodium_init() < 0) return Error{Code::internal, "The system gives no random numbers to make a key of."};
  const Result<std::filesystem::path> path = usable(given);
  if (!path) return path.error();
  if (Done reserved = reserve(*path); !reserved) return reserved.error();
  std::error_code failed;
  std::filesystem::permissions(*path, std::filesystem::perms::owner_read | std::filesystem::perms::owner_write, failed);
  Seed seed{};
  randombytes_buf(seed.data(), seed.size());
  KeyPair key = pair_of(seed);
  sodium_memzero(seed.data(), seed.size());
  const std::string text =
      std::string{first_line} + "\npublic: " + key.public_key + "\nsecret, keep it to yourself: " + key.seed + "\n";
  if (Done written = write_secret(*path, text); !written) return written.error();
  return key;
}

Result<KeyPair> read_key_file(const std::filesystem::path& path) {
  std::error_code failed;
  if (!std::filesystem::exists(path, failed)) {
    return Error{Code::not_found, "There is no key at " + shown(path) + ". Check the path, or make one."};
  }
  std::ifstream file{path};
  if (!file) return denied(path);
  std::string first;
  std::string second;
  std::string third;
  std::getline(file, first);
  std::getline(file, second);
  std::getline(file, third);
  const auto value = [](const std::string& line) {
    const std::size_t colon = line.find(": ");
    return colon == std::string::npos ? std::string{} : line.substr(colon + 2);
  };
  Seed seed{};
  if (first != first_line || !from_hex(value(third), seed)) return no_key(path);
  KeyPair key = pair_of(seed);
  if (key.public_key != value(second)) return no_key(path);
  return key;
}

std::string sign(const KeyPair& key, std::string_view digest) {
  Seed seed{};
  from_hex(key.seed, seed);
  PublicKey public_key{};
  SecretKey secret{};
  crypto_sign_seed_keypair(public_key.data(), secret.data(), seed.data());
  SignatureBytes signature{};
  const std::string message = message_of(digest);
  crypto_sign_detached(signature.data(), nullptr, bytes_of(message), message.size(), secret.data());
  sodium_memzero(secret.data(), secret.size());
  return to_hex(signature);
}

bool is_signed(std::string_view public_key, std::string_view digest, std::string_view signature) {
  PublicKey key{};
  SignatureBytes bytes{};
  if (!from_hex(public_key, key) || !from_hex(signature, bytes)) return false;
  const std::string message = message_of(digest);
  return crypto_sign_verify_detached(bytes.data(), bytes_of(message), message.size(), key.data()) == 0;
}

}  // namespace jigtime::store
