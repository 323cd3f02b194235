// Which instant of the session each picture of a film shows.
#pragma once

#include <cstdint>
#include <vector>

#include "base/time.h"

namespace jigtime::film {

struct PictureRate {
  int num = 30;
  int den = 1;
};

/// Stretches of the session one after another, each at its own speed.
class Pace {
 public:
  struct Stretch {
    SessionRange range;
    int speed_milli = 1000;  ///< 1000: as filmed
  };
  /// Precondition: at least one stretch, in order, each beginning where the one before ends; speeds above zero.
  Pace(std::vector<Stretch> stretches, PictureRate rate);

  /// Pictures of the whole film.
  std::int64_t count() const { return first_.back(); }
  /// What picture n shows: worked out from n, so that nothing adds up.
  SessionTime at(std::int64_t picture) const;
  int speed_milli_at(std::int64_t picture) const { return stretches_[index_of(picture)].speed_milli; }
  /// The first picture that shows `t` or what comes after it.
  std::int64_t picture_at(SessionTime t) const;
  PictureRate rate() const { return rate_; }
  /// When picture n begins in the film.
  Length film_time(std::int64_t picture) const { return Length{scaled(picture * rate_.den, 1'000'000'000, rate_.num)}; }

 private:
  std::size_t index_of(std::int64_t picture) const;
  std::int64_t pictures_in(const Stretch& stretch, Length length) const;

  std::vector<Stretch> stretches_;
  PictureRate rate_;
  std::vector<std::int64_t> first_;  ///< first picture of each stretch; behind the last, how many there are
};

/// One speed throughout, but another one within `around` of each of the moments.
std::vector<Pace::Stretch> paced(SessionRange range, int speed_milli, const std::vector<SessionTime>& moments,
                                 int slow_milli, Length around);

}  // namespace jigtime::film
