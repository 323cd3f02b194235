// Prints what FFTW's planner measures to be fastest for the transforms of which the line-up is made: the text of
// assets/plans/fft.txt. Takes some minutes; nothing else should run beside it.
#include <fftw3.h>

#include <complex>
#include <cstdio>
#include <cstdlib>

#include "signal/fft.h"

int main() {
  using namespace jigtime::signal;
  for (const int size : planned_sizes()) {
    Samples samples(static_cast<std::size_t>(size));
    Spectrum spectrum(static_cast<std::size_t>(size / 2 + 1));
    auto* const bins = reinterpret_cast<fftwf_complex*>(spectrum.data());
    fftwf_destroy_plan(fftwf_plan_dft_r2c_1d(size, samples.data(), bins, FFTW_PATIENT));
    fftwf_destroy_plan(fftwf_plan_dft_c2r_1d(size, bins, samples.data(), FFTW_PATIENT));
  }
  char* const plans = fftwf_export_wisdom_to_string();
  if (plans == nullptr) return 1;
  std::puts(plans);
  std::free(plans);
  return 0;
}
