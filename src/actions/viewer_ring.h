// Sound on its way from the thread that decodes it to the one that plays it, without locks.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <memory>

#include "base/time.h"

namespace jigtime::actions {

struct SoundPacket {
  std::uint16_t generation = 0;  ///< of the clock it was made for; of another one it is not wanted any more
  SessionTime start{};
  double step_ns = 0;  ///< session time from one sample to the next
  std::size_t count = 0;
  std::array<float, 256> samples{};
};

/// One thread writes, one reads.
class SoundRing {
 public:
  /// Room for the next packet; null when the ring is full. Not to be read before written().
  SoundPacket* room() {
    const std::size_t head = head_.load(std::memory_order_relaxed);
    return head - tail_.load(std::memory_order_acquire) < size ? &packets_[head % size] : nullptr;
  }
  void written() { head_.fetch_add(1, std::memory_order_release); }

  /// The oldest packet; null when there is none.
  const SoundPacket* front() const noexcept {
    const std::size_t tail = tail_.load(std::memory_order_relaxed);
    return tail != head_.load(std::memory_order_acquire) ? &packets_[tail % size] : nullptr;
  }
  void pop() noexcept { tail_.fetch_add(1, std::memory_order_release); }

 private:
  static constexpr std::size_t size = 128;  ///< 0.7 s at 48 kHz
  std::unique_ptr<SoundPacket[]> packets_ = std::make_unique<SoundPacket[]>(size);
  std::atomic<std::size_t> head_{0};
  std::atomic<std::size_t> tail_{0};
};

}  // namespace jigtime::actions
