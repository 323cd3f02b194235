// Which file it is, wherever it lies: size and a digest of its ends.
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace jigtime {

struct FileIdentity {
  std::uint64_t size_bytes = 0;
  std::array<std::uint8_t, 32> digest{};  ///< SHA-256 over the size and the first and last 64 KiB

  std::string hex() const;
  friend auto operator<=>(const FileIdentity&, const FileIdentity&) = default;
};

}  // namespace jigtime
