#include "signal/fft.h"

#include <fftw3.h>

#include <array>
#include <map>
#include <mutex>
#include <stdexcept>

#include "signal/kept_plans.h"

namespace jigtime::signal {

namespace {

struct DestroyPlan {
  void operator()(fftwf_plan plan) const { fftwf_destroy_plan(plan); }
};
using Plan = std::unique_ptr<std::remove_pointer_t<fftwf_plan>, DestroyPlan>;

/// Those of the line-up's windows, of its searches and of what is heard.
constexpr std::array planned{512, 2048, 16000, 16384, 32000, 64000, 131072};

fftwf_complex* raw(std::complex<float>* values) { return reinterpret_cast<fftwf_complex*>(values); }

}  // namespace

struct RealFft::Plans {
  explicit Plans(int size) {
    Samples samples(static_cast<std::size_t>(size));
    Spectrum spectrum(static_cast<std::size_t>(size / 2 + 1));
    // Estimated where no plan is kept: measured ones would differ from run to run, and with them the rounding.
    forward.reset(fftwf_plan_dft_r2c_1d(size, samples.data(), raw(spectrum.data()), FFTW_ESTIMATE));
    inverse.reset(fftwf_plan_dft_c2r_1d(size, raw(spectrum.data()), samples.data(), FFTW_ESTIMATE));
  }
  Plan forward;
  Plan inverse;
};

RealFft::RealFft(int size) : size_{size} {
  if (size < 2 || size % 2 != 0) throw std::logic_error{"a transform needs an even number of samples"};
  // FFTW's planner is not thread safe; plans live as long as the program, there are only a handful of sizes.
  static std::mutex planning;
  static std::map<int, std::shared_ptr<const Plans>> known;
  const std::scoped_lock lock{planning};
  // Refused where they are of another release or processor: then all are estimated.
  if (known.empty()) fftwf_import_wisdom_from_string(kept_plans);
  std::shared_ptr<const Plans>& plans = known[size];
  if (!plans) plans = std::make_shared<const Plans>(size);
  plans_ = plans;
}

void RealFft::forward(const Samples& in, Spectrum& out) const {
  if (in.size() != static_cast<std::size_t>(size_)) throw std::logic_error{"wrong number of samples to transform"};
  out.resize(static_cast<std::size_t>(bins()));
  // FFTW's signature lacks the const; an out-of-place forward transform leaves its input alone.
  fftwf_execute_dft_r2c(plans_->forward.get(), const_cast<float*>(in.data()), raw(out.data()));
}

void RealFft::inverse(Spectrum& in, Samples& out) const {
  if (in.size() != static_cast<std::size_t>(bins())) throw std::logic_error{"wrong number of bins to transform"};
  out.resize(static_cast<std::size_t>(size_));
  fftwf_execute_dft_c2r(plans_->inverse.get(), raw(in.data()), out.data());
  const float scale = 1.0f / static_cast<float>(size_);
  for (float& sample : out) sample *= scale;
}

std::span<const int> planned_sizes() { return planned; }

int fast_size(int least) {
  for (int size = least < 2 ? 2 : least + least % 2;; size += 2) {
    int rest = size;
    for (int factor : {2, 3, 5}) {
      while (rest % factor == 0) rest /= factor;
    }
    if (rest == 1) return size;
  }
}

}  // namespace jigtime::signal
