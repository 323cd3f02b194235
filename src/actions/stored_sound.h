// A clip's samples in a file, 16 bits each.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sync/line_up.h"

namespace jigtime::actions {

/// Owns the open file. Reading from several threads at once is safe.
class StoredSound : public sync::Sound {
 public:
  StoredSound(int file, ClipTime origin, std::int64_t count) : file_{file}, origin_{origin}, count_{count} {}
  StoredSound(const StoredSound&) = delete;
  StoredSound& operator=(const StoredSound&) = delete;
  ~StoredSound() override;

  ClipTime origin() const override { return origin_; }
  std::int64_t count() const override { return count_; }
  Done read(std::int64_t first, std::span<float> out) const override;

 private:
  int file_;
  ClipTime origin_;
  std::int64_t count_;
};

/// As the file holds them: full scale is 32767, what is louder is cut.
void to_16_bits(std::span<const float> samples, std::vector<std::int16_t>& to);

}  // namespace jigtime::actions
