#include "app/times.h"

#include <cstdlib>
#include <iostream>

namespace jigtime::app {
namespace {

double milliseconds_since(std::chrono::steady_clock::time_point begin) {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count();
}

}  // namespace

Times::Times(Clock::time_point started) : wanted_{std::getenv("JIGTIME_TIMES") != nullptr}, started_{started} {}

void Times::entered() { entered_ = Clock::now(); }

void Times::shown(bool all_pictures) {
  if (first_) std::cerr << "first frame after " << milliseconds_since(started_) << " ms\n";
  first_ = false;
  if (!entered_ || !all_pictures) return;
  std::cerr << "pictures " << milliseconds_since(*entered_) << " ms after Enter\n";
  entered_.reset();
}

void Times::closing(const actions::PlayCounts& counts) const {
  if (wanted_) std::cerr << "pictures due " << counts.due << ", late " << counts.late << "\n";
}

}  // namespace jigtime::app
