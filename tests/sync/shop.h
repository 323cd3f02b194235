// A made-up workshop: what happens in it, and what a camera's microphone hears of it, with every truth known.
#pragma once

#include <cstdint>
#include <random>
#include <span>
#include <vector>

#include "sync/line_up.h"

namespace jigtime::test {

/// The same numbers for the same beginning on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t number) : engine_{number} {}
  double uniform(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1p-53);
  }
  double normal();
  int below(int count) { return static_cast<int>(uniform(0, count)); }
  std::uint64_t number() { return engine_(); }

 private:
  std::mt19937_64 engine_;
};

struct Spot {
  double x = 0;  ///< metres
  double y = 0;
};

enum class Deed { hammering, clatter, talk, music, compressor };

/// One sound made in the shop.
struct Happening {
  double at = 0;  ///< session seconds
  double length = 1;
  Deed deed = Deed::clatter;
  int spot = 0;
  double level = 1;
  std::uint64_t number = 0;  ///< the same number sounds the same
};

struct Shop {
  std::vector<Spot> spots;
  std::vector<Happening> happenings;
  std::vector<double> levels;  ///< root mean square of what happens, by session second
};

struct ShopPlan {
  std::uint64_t number = 1;
  double seconds = 120;
  double every = 4;  ///< mean seconds from one happening to the next
  int spots = 1;     ///< 1: all sound comes from one place
  double width = 0;  ///< metres over which the spots spread
  double music = 0;  ///< share of happenings that are music
  bool compressor = false;
};
Shop make_shop(const ShopPlan& plan);

struct Loss {
  double at = 0;       ///< clip seconds where the clip jumps
  double seconds = 0;  ///< real time that is missing there
};

/// A camera's recording of the shop.
struct Take {
  double start = 0;     ///< session seconds of clip zero
  double seconds = 60;  ///< length of the clip
  double rate_ppm = 0;
  double rate_slope_ppm_per_hour = 0;
  std::vector<Loss> losses{};  ///< in order
  Spot microphone{};
  double snr_db = 20;          ///< happenings while they sound, against the microphone's own noise
  double reverberation = 0.3;  ///< seconds to -60 dB; 0 is none
  double direct = 1;           ///< of the direct sound against the reverberation's strength
  double gain = 0.1;
  bool pumping = false;  ///< automatic gain
  std::uint64_t number = 1;

  double session_at(double clip_seconds) const;
};

/// Sound held in memory, for tests.
class MemorySound : public sync::Sound {
 public:
  explicit MemorySound(std::vector<float> samples, ClipTime origin = {})
      : samples_{std::move(samples)}, origin_{origin} {}
  ClipTime origin() const override { return origin_; }
  std::int64_t count() const override { return static_cast<std::int64_t>(samples_.size()); }
  Done read(std::int64_t first, std::span<float> out) const override;
  std::span<const float> samples() const { return samples_; }

 private:
  std::vector<float> samples_;
  ClipTime origin_;
};

std::vector<float> record(const Shop& shop, const Take& take);
sync::Features features_of(std::span<const float> samples, ClipTime origin = {});

/// Clips with the sound and features they point to.
struct Footage {
  std::vector<Take> takes;
  std::vector<std::unique_ptr<MemorySound>> sounds;
  std::vector<std::unique_ptr<sync::Features>> features;
  std::vector<sync::ClipInput> clips;

  sync::ClipInput& add(const Shop& shop, const Take& take, int camera);
};

/// Session seconds that a result gives to a clip's time; NaN when it has no piece there.
double placed_at(const sync::ClipResult& clip, double clip_seconds);

}  // namespace jigtime::test
