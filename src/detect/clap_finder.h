// The builder's hand signal: three claps or knocks that stand alone.
#pragma once

#include <array>
#include <cstdint>
#include <deque>
#include <optional>

#include "detect/envelope.h"

namespace jigtime::detect {

/// A convention of this program: three claps or knocks of similar level, evenly spaced by 0.25 to 0.7 s, with a second
/// of nothing sharp before the first and after the last. Two, four or more, a gallop, or knocks amid other work are
/// no signal.
struct Claps {
  double begin_s = 0;  ///< since the first frame
  double end_s = 0;
  double confidence = 0;
};

class ClapFinder {
 public:
  /// A signal is handed out a second after its last clap.
  std::optional<Claps> add(const Frame& frame);
  std::optional<Claps> finish();

 private:
  struct Knock {
    double at_s = 0;
    double level_db = 0;
    double above_db = 0;  ///< over the second before it
    bool short_lived = false;
  };

  void follow(double level_db);
  std::optional<Claps> judge();

  double sum_ = 0;
  std::int64_t frames_ = 0;
  double quiet_db_ = -120;           ///< slow level of what is not a knock
  std::array<double, 12> recent_{};  ///< levels of the latest hops
  std::deque<Knock> knocks_;         ///< the latest five at most
  int since_knock_ = 1000;           ///< hops
};

}  // namespace jigtime::detect
