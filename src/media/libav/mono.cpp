#include "media/libav/mono.h"

#include <cmath>
#include <cstdint>
#include <string>
#include <type_traits>

extern "C" {
#include <libavutil/samplefmt.h>
}

namespace jigtime::media {
namespace {

// Far above full scale; keeps later sums of squares finite.
constexpr float most_level = 1e6F;

template <class Sample>
float to_float(Sample sample) {
  if constexpr (std::is_floating_point_v<Sample>) {
    return static_cast<float>(sample);
  } else if constexpr (std::is_same_v<Sample, std::uint8_t>) {
    return (static_cast<float>(sample) - 128.0F) / 128.0F;
  } else {
    constexpr float scale = 1.0F / (static_cast<float>(std::uint64_t{1} << (8 * sizeof(Sample) - 1)));
    return static_cast<float>(sample) * scale;
  }
}

template <class Sample>
void set(const std::uint8_t* from, int stride, int count, float* to) {
  const auto* samples = reinterpret_cast<const Sample*>(from);
  for (int i = 0; i < count; ++i) to[i] = to_float(samples[static_cast<std::ptrdiff_t>(i) * stride]);
}

template <class Sample>
void add(const std::uint8_t* from, int stride, int count, float* to) {
  const auto* samples = reinterpret_cast<const Sample*>(from);
  for (int i = 0; i < count; ++i) to[i] += to_float(samples[static_cast<std::ptrdiff_t>(i) * stride]);
}

template <class Sample>
void average(const AVFrame& frame, float* to) {
  const int channels = frame.ch_layout.nb_channels;
  const bool planar = av_sample_fmt_is_planar(static_cast<AVSampleFormat>(frame.format)) != 0;
  const int stride = planar ? 1 : channels;
  for (int channel = 0; channel < channels; ++channel) {
    const std::uint8_t* from = planar ? frame.extended_data[channel]
                                      : frame.extended_data[0] + static_cast<std::size_t>(channel) * sizeof(Sample);
    // A stride known to be one lets the compiler use vector instructions.
    if (channel == 0) {
      stride == 1 ? set<Sample>(from, 1, frame.nb_samples, to) : set<Sample>(from, stride, frame.nb_samples, to);
    } else {
      stride == 1 ? add<Sample>(from, 1, frame.nb_samples, to) : add<Sample>(from, stride, frame.nb_samples, to);
    }
  }
  const float share = 1.0F / static_cast<float>(channels);
  for (int i = 0; i < frame.nb_samples; ++i) {
    const float value = to[i] * share;
    to[i] = std::abs(value) < most_level ? value : 0.0F;
  }
}

}  // namespace

Done append_mono(const AVFrame& frame, std::vector<float>& to) {
  if (frame.nb_samples <= 0 || frame.ch_layout.nb_channels <= 0) return {};
  const std::size_t before = to.size();
  to.resize(before + static_cast<std::size_t>(frame.nb_samples));
  float* into = to.data() + before;
  switch (av_get_packed_sample_fmt(static_cast<AVSampleFormat>(frame.format))) {
    case AV_SAMPLE_FMT_U8: average<std::uint8_t>(frame, into); return {};
    case AV_SAMPLE_FMT_S16: average<std::int16_t>(frame, into); return {};
    case AV_SAMPLE_FMT_S32: average<std::int32_t>(frame, into); return {};
    case AV_SAMPLE_FMT_S64: average<std::int64_t>(frame, into); return {};
    case AV_SAMPLE_FMT_FLT: average<float>(frame, into); return {};
    case AV_SAMPLE_FMT_DBL: average<double>(frame, into); return {};
    default: break;
  }
  to.resize(before);
  return Error{Code::unsupported, "The sound's sample format is not known here. Convert it to AAC or PCM."};
}

}  // namespace jigtime::media
