#include "film/tempo.h"

#include <soundtouch/SoundTouch.h>

#include <algorithm>
#include <vector>

namespace jigtime::film {

static_assert(std::is_same_v<soundtouch::SAMPLETYPE, float>, "Debian builds the library for floats");

struct Tempo::Impl {
  bool passes;
  soundtouch::SoundTouch stretcher{};
  std::vector<float> waiting{};  ///< what comes out next, before what the stretcher has
  std::size_t to_drop = 0;
};

namespace {

// Short: the place of a single blow inside its sequence is what is lost. Voices keep two periods of their lowest tone.
constexpr int sequence_ms = 40;

/// How much later a sound leaves the stretcher than tempo alone would have it, in samples that come out; less than zero
/// when it is earlier. The library lays whole sequences next to each other, so that it is a sequence's beginning that
/// lies right, and its middle is off by half of what the sequence is longer or shorter than what it stands for.
double lateness(double tempo, int sample_rate_hz) {
  return sequence_ms / 1000.0 * sample_rate_hz / 2 * (tempo - 1) / tempo;
}

}  // namespace

Tempo::Tempo(int sample_rate_hz, double tempo) : impl_{new Impl{.passes = tempo == 1.0}} {
  impl_->stretcher.setSampleRate(static_cast<unsigned>(sample_rate_hz));
  impl_->stretcher.setChannels(1);
  impl_->stretcher.setTempo(tempo);
  impl_->stretcher.setSetting(SETTING_SEQUENCE_MS, sequence_ms);
  const double late = lateness(tempo, sample_rate_hz);
  if (late >= 0) impl_->to_drop = static_cast<std::size_t>(late);
  if (late < 0) impl_->waiting.assign(static_cast<std::size_t>(-late), 0.0F);
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
  Impl& self = *impl_;
  if (!self.waiting.empty()) {
    const std::size_t count = std::min(out.size(), self.waiting.size());
    std::copy_n(self.waiting.begin(), count, out.begin());
    self.waiting.erase(self.waiting.begin(), self.waiting.begin() + static_cast<std::ptrdiff_t>(count));
    return count;
  }
  if (self.passes) return 0;
  while (self.to_drop > 0) {
    const unsigned gone = self.stretcher.receiveSamples(static_cast<unsigned>(self.to_drop));
    if (gone == 0) return 0;
    self.to_drop -= gone;
  }
  return self.stretcher.receiveSamples(out.data(), static_cast<unsigned>(out.size()));
}

}  // namespace jigtime::film
