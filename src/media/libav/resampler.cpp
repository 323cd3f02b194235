#include "media/libav/resampler.h"

#include <string>

extern "C" {
#include <libavutil/channel_layout.h>
#include <libavutil/opt.h>
}

#include "media/libav/error.h"

namespace jigtime::media {
namespace {

// Taps of the filter at the lower of both rates. Longer ones cost more than decoding does and tell the line-up nothing.
constexpr int filter_taps = 24;
// Samples, at the lower of both rates, that cover the filter.
constexpr int filter_reach = 2 * filter_taps;

}  // namespace

Result<Resampler> Resampler::open(int in_rate_hz, int out_rate_hz) {
  if (in_rate_hz <= 0 || out_rate_hz <= 0) {
    return Error{Code::invalid, "Sound cannot be brought from " + std::to_string(in_rate_hz) + " to " +
                                    std::to_string(out_rate_hz) + " Hz."};
  }
  AVChannelLayout one = AV_CHANNEL_LAYOUT_MONO;
  SwrContext* made = nullptr;
  int code = swr_alloc_set_opts2(&made, &one, AV_SAMPLE_FMT_FLTP, out_rate_hz, &one, AV_SAMPLE_FMT_FLTP, in_rate_hz, 0,
                                 nullptr);
  ResamplerPtr context{made};
  if (code >= 0) code = av_opt_set_int(context.get(), "filter_size", filter_taps, 0);
  if (code >= 0) code = swr_init(context.get());
  if (code < 0) return from_libav(code, "The sound cannot be brought to another rate");
  return Resampler{std::move(context), in_rate_hz, out_rate_hz};
}

Done Resampler::run(const float* in, int count, std::vector<float>& out) {
  const int room = swr_get_out_samples(context_.get(), count);
  if (room < 0) return from_libav(room, "The sound cannot be brought to another rate");
  const std::size_t before = out.size();
  out.resize(before + static_cast<std::size_t>(room));
  auto* into = reinterpret_cast<std::uint8_t*>(out.data() + before);
  const auto* from = reinterpret_cast<const std::uint8_t*>(in);
  const int made = swr_convert(context_.get(), &into, room, &from, count);
  if (made < 0) return from_libav(made, "The sound cannot be brought to another rate");
  out.resize(before + static_cast<std::size_t>(made));
  given_ += made;
  return {};
}

Done Resampler::convert(std::span<const float> in, std::vector<float>& out) {
  if (in.empty()) return {};
  taken_ += static_cast<std::int64_t>(in.size());
  if (in_rate_hz_ == out_rate_hz_) {
    out.insert(out.end(), in.begin(), in.end());
    given_ = taken_;
    return {};
  }
  return run(in.data(), static_cast<int>(in.size()), out);
}

Done Resampler::finish(std::vector<float>& out) {
  // Silence pushes out what the filter holds back, also of sounds shorter than the filter, which libswresample's own
  // flush would swallow.
  const std::int64_t due = av_rescale_rnd(taken_, out_rate_hz_, in_rate_hz_, AV_ROUND_UP);
  const std::vector<float> silence(static_cast<std::size_t>(filter_reach * (in_rate_hz_ / out_rate_hz_ + 1)));
  while (in_rate_hz_ != out_rate_hz_ && given_ < due) {
    if (const Done pushed = run(silence.data(), static_cast<int>(silence.size()), out); !pushed) return pushed;
  }
  if (given_ > due) out.resize(out.size() - static_cast<std::size_t>(given_ - due));
  taken_ = 0;
  given_ = 0;
  swr_close(context_.get());
  if (const int code = swr_init(context_.get()); code < 0) {
    return from_libav(code, "The sound cannot be brought to another rate");
  }
  return {};
}

}  // namespace jigtime::media
