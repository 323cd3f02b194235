// SHA-256 of bytes that come piece by piece.
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace jigtime::store {

/// Gives what sha256_hex gives for all pieces together.
class Sha256 {
 public:
  Sha256();
  ~Sha256();
  void add(std::string_view bytes);
  /// Lower-case hexadecimal. Once; nothing may be added after it.
  std::string hex();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace jigtime::store
