// Sound faster or slower at the same pitch.
#pragma once

#include <memory>
#include <span>

namespace jigtime::film {

/// Within these bounds speech and work stay recognisable; outside there is no sound.
inline constexpr double least_tempo = 0.25;
inline constexpr double most_tempo = 2.0;

/// One channel. Sample m that comes out is the sound around sample m * tempo that went in: on the whole within 10 ms as
/// it is heard, 20 ms below 0.5x. A single blow is off by up to 20 ms * |1 - tempo| / tempo more: 10 ms at 2x, 20 ms at
/// 0.5x, 60 ms at 0.25x.
class Tempo {
 public:
  /// Precondition: least_tempo <= tempo <= most_tempo. At 1 everything passes unchanged.
  Tempo(int sample_rate_hz, double tempo);
  Tempo(Tempo&&) noexcept;
  Tempo& operator=(Tempo&&) noexcept;
  ~Tempo();

  void put(std::span<const float> samples);
  /// As many as there are by now, at most out.size().
  std::size_t take(std::span<float> out);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::film
