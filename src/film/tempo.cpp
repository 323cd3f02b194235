#include "film/tempo.h"

#include <soundtouch/SoundTouch.h>

#include <algorithm>
#include <vector>

namespace jigtime::film {

static_assert(std::is_same_v<soundtouch::SAMPLETYPE, float>, "Debian builds the library for floats");

struct Tempo::Impl {
  bool passes;
  soundtouch::SoundTouch stretcher{};
  std::vector<float> waiting{};  ///< only where everything passes
};

Tempo::Tempo(int sample_rate_hz, double tempo) : impl_{new Impl{.passes = tempo == 1.0}} {
  impl_->stretcher.setSampleRate(static_cast<unsigned>(sample_rate_hz));
  impl_->stretcher.setChannels(1);
  impl_->stretcher.setTempo(tempo);
}
Tempo::Tempo(Tempo&&) noexcept = default;
Tempo& Tempo::operator=(Tempo&&) noexcept = default;
Tempo::~Tempo() = default;

void Tempo::put(std::span<const float> samples) {
  if (impl_->passes) {
    impl_->waiting.insert(impl_->waiting.end(), samples.begin(), samples.end());
  } else {
    impl_->stretcher.putSamples(samples.data(), static_cast<unsigned>(samples.size()));
  }
}

std::size_t Tempo::take(std::span<float> out) {
  if (!impl_->passes) return impl_->stretcher.receiveSamples(out.data(), static_cast<unsigned>(out.size()));
  const std::size_t count = std::min(out.size(), impl_->waiting.size());
  std::copy_n(impl_->waiting.begin(), count, out.begin());
  impl_->waiting.erase(impl_->waiting.begin(), impl_->waiting.begin() + static_cast<std::ptrdiff_t>(count));
  return count;
}

}  // namespace jigtime::film
