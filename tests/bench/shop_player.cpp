#include "bench/shop_player.h"

#include <fftw3.h>

#include <algorithm>
#include <complex>
#include <utility>

#include "bench/shop_room.h"
#include "bench/shop_simulator.h"

namespace jigtime::bench {
namespace {

constexpr int block = 16384;
constexpr int transform = 2 * block;
constexpr std::size_t bins = block + 1;

using Spectrum = std::vector<std::complex<float>>;

class Fourier {
 public:
  Fourier() : wave_(transform), spectrum_(bins) {
    auto* out = reinterpret_cast<fftwf_complex*>(spectrum_.data());
    forward_ = fftwf_plan_dft_r2c_1d(transform, wave_.data(), out, FFTW_ESTIMATE);
    back_ = fftwf_plan_dft_c2r_1d(transform, out, wave_.data(), FFTW_ESTIMATE);
  }
  Fourier(const Fourier&) = delete;
  Fourier& operator=(const Fourier&) = delete;
  ~Fourier() {
    fftwf_destroy_plan(forward_);
    fftwf_destroy_plan(back_);
  }
  /// Of at most `transform` samples, the rest taken as zeros.
  const Spectrum& of(std::span<const float> wave) {
    std::fill(std::copy(wave.begin(), wave.end(), wave_.begin()), wave_.end(), 0.0F);
    fftwf_execute(forward_);
    return spectrum_;
  }
  const std::vector<float>& back(const Spectrum& spectrum) {
    std::copy(spectrum.begin(), spectrum.end(), spectrum_.begin());
    fftwf_execute(back_);
    for (float& x : wave_) x /= static_cast<float>(transform);
    return wave_;
  }

 private:
  std::vector<float> wave_;
  Spectrum spectrum_;
  fftwf_plan forward_ = nullptr;
  fftwf_plan back_ = nullptr;
};

struct Playing {
  SoundEvent event;
  std::unique_ptr<Voice> voice;
};

}  // namespace

struct ShopPlayer::Impl {
  explicit Impl(const SessionPlan& plan)
      : events{plan.events}, length{std::llround(plan.length_s * rate_hz)}, positions{plan.positions.size()} {
    for (std::size_t c = 0; c < plan.cameras.size(); ++c) {
      for (std::size_t p = 0; p < positions; ++p) {
        responses.push_back(fourier.of(room_response(plan.room, plan.positions[p], plan.cameras[c].microphone_at,
                                                     plan.arrival, mix(plan.number + 31 * c + p), block)));
      }
    }
    heard.assign(plan.cameras.size(), std::vector<float>(block, 0.0F));
    overlap.assign(plan.cameras.size(), std::vector<float>(block, 0.0F));
  }

  void play_block() {
    std::vector<Spectrum> sums(heard.size(), Spectrum(bins));
    start_voices();
    for (std::size_t p = 0; p < positions; ++p) {
      if (!mix_dry(static_cast<int>(p))) continue;
      const Spectrum& source = fourier.of(dry);
      for (std::size_t c = 0; c < sums.size(); ++c) add_product(source, responses[c * positions + p], sums[c]);
    }
    for (std::size_t c = 0; c < sums.size(); ++c) {
      const std::vector<float>& wave = fourier.back(sums[c]);
      for (std::size_t n = 0; n < block; ++n) heard[c][n] = wave[n] + overlap[c][n];
      std::copy(wave.begin() + block, wave.end(), overlap[c].begin());
    }
    std::erase_if(playing, [this](const Playing& one) { return one.event.end() <= played + block; });
    played += block;
  }

  void start_voices() {
    for (; next < events.size() && events[next].begin < played + block; ++next) {
      playing.push_back({events[next], make_voice(events[next])});
    }
  }

  /// False when nothing sounds at this place.
  bool mix_dry(int position) {
    bool any = false;
    dry.assign(block, 0.0F);
    for (const Playing& one : playing) {
      if (one.event.position != position) continue;
      one.voice->add_to(played - one.event.begin, dry);
      any = true;
    }
    return any;
  }

  static void add_product(const Spectrum& a, const Spectrum& b, Spectrum& sum) {
    for (std::size_t k = 0; k < bins; ++k) {
      const float real = a[k].real() * b[k].real() - a[k].imag() * b[k].imag();
      const float imaginary = a[k].real() * b[k].imag() + a[k].imag() * b[k].real();
      sum[k] += std::complex<float>{real, imaginary};
    }
  }

  Fourier fourier;
  std::vector<SoundEvent> events;
  std::int64_t length;
  std::size_t positions;
  std::vector<Spectrum> responses;
  std::size_t next = 0;
  std::vector<Playing> playing;
  std::vector<float> dry;
  std::vector<std::vector<float>> heard;
  std::vector<std::vector<float>> overlap;
  std::int64_t played = 0;
};

ShopPlayer::ShopPlayer(const SessionPlan& plan) : impl_{std::make_unique<Impl>(plan)} {}
ShopPlayer::ShopPlayer(ShopPlayer&&) noexcept = default;
ShopPlayer::~ShopPlayer() = default;

bool ShopPlayer::finished() const { return impl_->played >= impl_->length + block; }
void ShopPlayer::play_block() { impl_->play_block(); }
std::int64_t ShopPlayer::block_begin() const { return impl_->played - block - response_latency; }
std::span<const float> ShopPlayer::heard_by(int camera) const { return impl_->heard[static_cast<std::size_t>(camera)]; }

}  // namespace jigtime::bench
