// What FFTW's planner once measured to be fastest ("wisdom"), as text that it reads; made by tests/bench/fft_plans.cpp.
#pragma once

namespace jigtime::signal {

extern const char* const kept_plans;

}  // namespace jigtime::signal
