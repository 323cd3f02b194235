// One channel of sound at another rate, with every output sample's time known.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "base/result.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// Output sample n lies at n / out_rate after the first input sample since the last restart: the filter is centred,
/// so its delay holds samples back but does not move them. Flat to within 1 dB up to 0.42 of the lower rate.
class Resampler {
 public:
  /// Errors: invalid (a rate that is not above zero), internal.
  static Result<Resampler> open(int in_rate_hz, int out_rate_hz);

  /// Appends what can be told by now.
  Done convert(std::span<const float> in, std::vector<float>& out);
  /// Appends the rest, up to the last input sample; then begins anew.
  Done finish(std::vector<float>& out);

  int in_rate_hz() const { return in_rate_hz_; }

 private:
  Resampler(ResamplerPtr context, int in_rate_hz, int out_rate_hz)
      : context_{std::move(context)}, in_rate_hz_{in_rate_hz}, out_rate_hz_{out_rate_hz} {}
  Done run(const float* in, int count, std::vector<float>& out);

  ResamplerPtr context_;
  int in_rate_hz_;
  int out_rate_hz_;
  std::int64_t taken_ = 0;  ///< input samples since the last restart
  std::int64_t given_ = 0;
};

}  // namespace jigtime::media
