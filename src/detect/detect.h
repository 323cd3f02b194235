// Sound in, proposals with their doubt out. A proposal counts for nothing until the builder accepts it.
// Must never know: the journal, files.
// Begin reading at: Detector.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "base/pcm.h"
#include "base/time.h"

namespace jigtime::detect {

inline constexpr int sample_rate_hz = 16000;

enum class Kind { riveting, pause, signal };

struct Finding {
  Kind kind = Kind::riveting;
  ClipTime begin;
  ClipTime end;
  int count = 0;          ///< riveting: bursts (a rivet may take several); else 1
  double confidence = 0;  ///< 0 to 1
};

/// Fed with the samples of one clip from its sound's beginning; constant memory but for the findings.
class Detector {
 public:
  explicit Detector(ClipTime origin);
  Detector(Detector&&) noexcept;
  Detector& operator=(Detector&&) noexcept;
  ~Detector();
  void add(std::span<const float> samples);
  std::vector<Finding> finish();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::detect
