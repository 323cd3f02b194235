// Fourier transforms of real samples.
// Must never know: what the samples mean.
// Begin reading at: RealFft.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <new>
#include <span>
#include <vector>

namespace jigtime::signal {

/// Memory on a border that vector instructions like; transforms are planned for it.
template <class T>
struct AlignedAllocator {
  using value_type = T;
  static constexpr std::align_val_t alignment{64};
  AlignedAllocator() = default;
  template <class U>
  AlignedAllocator(const AlignedAllocator<U>&) noexcept {}  // NOLINT: conversion is how containers rebind
  T* allocate(std::size_t count) { return static_cast<T*>(::operator new(count * sizeof(T), alignment)); }
  void deallocate(T* memory, std::size_t) noexcept { ::operator delete(memory, alignment); }
  friend bool operator==(const AlignedAllocator&, const AlignedAllocator&) { return true; }
};

using Samples = std::vector<float, AlignedAllocator<float>>;
using Spectrum = std::vector<std::complex<float>, AlignedAllocator<std::complex<float>>>;

/// Discrete Fourier transform of `size` real samples. Copies are cheap and share the plan; transforming may run on
/// several threads at once. The same size gives the same rounding on every run of one machine: plans are not measured
/// when the program runs, but kept for planned_sizes() (assets/plans) and estimated for others, and for all where the
/// library is of another release or the processor knows other instructions.
class RealFft {
 public:
  /// Precondition: size >= 2 and even. Powers of two, and products of 2, 3 and 5, are fast.
  explicit RealFft(int size);

  int size() const { return size_; }
  int bins() const { return size_ / 2 + 1; }
  /// X[k] = sum over n of in[n] exp(-2 pi i k n / size), for k up to size / 2. `in` has size() samples; `out` is
  /// resized to bins().
  void forward(const Samples& in, Spectrum& out) const;
  /// The inverse, divided by size: inverse(forward(x)) is x. `in` has bins() values and is destroyed; `out` is
  /// resized to size().
  void inverse(Spectrum& in, Samples& out) const;

 private:
  struct Plans;
  int size_;
  std::shared_ptr<const Plans> plans_;
};

/// For which plans are kept, in rising order.
std::span<const int> planned_sizes();

/// The smallest fast transform size (2^a 3^b 5^c, even) not below `least`.
int fast_size(int least);

}  // namespace jigtime::signal
