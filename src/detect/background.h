// How loud it is when nothing in particular sounds: a low quantile of the last seconds.
#pragma once

#include <array>
#include <cstddef>

namespace jigtime::detect {

/// Over the latest `reach` levels (at most 128). What runs on steadily becomes background by itself once it fills
/// four fifths of them.
class Background {
 public:
  explicit Background(std::size_t reach) : reach_{reach} {}
  void add(float level_db);
  /// The level that a fifth of the latest ones lie below; of none, a very low one.
  float level_db() const { return level_db_; }

 private:
  static constexpr std::size_t most = 128;
  std::size_t reach_;
  std::array<float, most> levels_{};
  std::size_t count_ = 0;
  std::size_t next_ = 0;
  float level_db_ = -200;
};

}  // namespace jigtime::detect
