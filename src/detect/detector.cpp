#include <algorithm>
#include <utility>

#include "detect/burst_finder.h"
#include "detect/clap_finder.h"
#include "detect/detect.h"
#include "detect/envelope.h"
#include "detect/pause_finder.h"

namespace jigtime::detect {
namespace {

/// Bursts this close are one stretch of riveting: the next rivet is set within seconds.
constexpr double same_stretch_s = 10;

}  // namespace

struct Detector::Impl {
  explicit Impl(ClipTime clip_origin) : origin{clip_origin} {}

  ClipTime at(double seconds) const { return origin + from_seconds(seconds); }

  void take(const Burst& burst) {
    if (stretch && burst.begin_s - stretch->end_s > same_stretch_s) end_stretch();
    if (!stretch) stretch = Stretch{burst.begin_s, burst.end_s, 0, 1};
    stretch->end_s = burst.end_s;
    stretch->count += burst.count;
    stretch->doubt *= 1 - burst.confidence;
  }

  void end_stretch() {
    if (!stretch) return;
    // Bursts of one stretch are not independent evidence (the same machine may fool the ear each time), so the doubt
    // left never falls below a twentieth.
    const double confidence = 1 - std::max(stretch->doubt, 0.05);
    findings.push_back({Kind::riveting, at(stretch->begin_s), at(stretch->end_s), stretch->count, confidence});
    stretch.reset();
  }

  void take(const Claps& found) {
    findings.push_back({Kind::signal, at(found.begin_s), at(found.end_s), 1, found.confidence});
  }
  void take(const Pause& found) {
    findings.push_back({Kind::pause, at(found.begin_s), at(found.end_s), 1, found.confidence});
  }
  template <class Found>
  void take(const std::optional<Found>& found) {
    if (found) take(*found);
  }

  void frame(const Frame& one) {
    if (const auto burst = bursts.add(one)) {
      take(*burst);
      take(pauses.work(burst->begin_s));
    }
    take(claps.add(one));
    take(pauses.add(one));
  }

  struct Stretch {
    double begin_s = 0;
    double end_s = 0;
    int count = 0;
    double doubt = 1;
  };

  ClipTime origin;
  Envelope envelope;
  BurstFinder bursts;
  ClapFinder claps;
  PauseFinder pauses;
  std::optional<Stretch> stretch;
  std::vector<Finding> findings;
};

Detector::Detector(ClipTime origin) : impl_{std::make_unique<Impl>(origin)} {}
Detector::Detector(Detector&&) noexcept = default;
Detector& Detector::operator=(Detector&&) noexcept = default;
Detector::~Detector() = default;

void Detector::add(std::span<const float> samples) {
  impl_->envelope.add(samples, [this](const Frame& frame) { impl_->frame(frame); });
}

std::vector<Finding> Detector::finish() {
  impl_->take(impl_->bursts.finish());
  impl_->take(impl_->claps.finish());
  impl_->end_stretch();
  impl_->take(impl_->pauses.finish());
  std::sort(impl_->findings.begin(), impl_->findings.end(),
            [](const Finding& a, const Finding& b) { return a.begin < b.begin; });
  return std::move(impl_->findings);
}

}  // namespace jigtime::detect
