// Plays a session's events into its room and hands out, block by block, what each camera's microphone gets to hear.
#pragma once

#include <complex>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "bench/shop_sounds.h"

namespace jigtime::bench {

struct SessionPlan;

class ShopPlayer {
 public:
  explicit ShopPlayer(const SessionPlan& plan);
  ShopPlayer(ShopPlayer&&) noexcept;
  ~ShopPlayer();

  bool finished() const;
  /// Precondition: not finished.
  void play_block();
  /// True sample number of the first sample that heard_by returns: the response's latency is already taken off.
  std::int64_t block_begin() const;
  /// Valid until the next play_block.
  std::span<const float> heard_by(int camera) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::bench
