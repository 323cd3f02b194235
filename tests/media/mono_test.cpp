#include "media/libav/mono.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstring>
#include <limits>

using namespace jigtime;
using namespace jigtime::media;

namespace {

FramePtr frame_of(AVSampleFormat format, int channels, int samples) {
  FramePtr frame{av_frame_alloc()};
  frame->format = format;
  frame->nb_samples = samples;
  frame->sample_rate = 48000;
  av_channel_layout_default(&frame->ch_layout, channels);
  REQUIRE(av_frame_get_buffer(frame.get(), 0) >= 0);
  return frame;
}

template <class Sample>
void put(AVFrame& frame, int channel, int index, Sample value) {
  const bool planar = av_sample_fmt_is_planar(static_cast<AVSampleFormat>(frame.format)) != 0;
  const int channels = frame.ch_layout.nb_channels;
  std::uint8_t* plane = planar ? frame.extended_data[channel] : frame.extended_data[0];
  const int at = planar ? index : index * channels + channel;
  std::memcpy(plane + static_cast<std::size_t>(at) * sizeof(Sample), &value, sizeof(Sample));
}

/// Two channels, one at half of full scale and one at minus a quarter: the average is an eighth.
template <class Sample>
std::vector<float> eighth(AVSampleFormat format, Sample half, Sample minus_quarter) {
  const FramePtr frame = frame_of(format, 2, 5);
  for (int i = 0; i < 5; ++i) {
    put(*frame, 0, i, half);
    put(*frame, 1, i, minus_quarter);
  }
  std::vector<float> out;
  REQUIRE(append_mono(*frame, out));
  return out;
}

}  // namespace

TEST_CASE("every sample format comes out as the average of the channels at the same level") {
  const auto fits = [](const std::vector<float>& out) {
    CHECK(out.size() == 5);
    for (const float sample : out) CHECK(sample == doctest::Approx(0.125));
  };
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_U8, AV_SAMPLE_FMT_U8P}) {
    fits(eighth<std::uint8_t>(format, 192, 96));
  }
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_S16, AV_SAMPLE_FMT_S16P}) {
    fits(eighth<std::int16_t>(format, 16384, -8192));
  }
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_S32, AV_SAMPLE_FMT_S32P}) {
    fits(eighth<std::int32_t>(format, 1 << 30, -(1 << 29)));
  }
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_S64, AV_SAMPLE_FMT_S64P}) {
    fits(eighth<std::int64_t>(format, std::int64_t{1} << 62, -(std::int64_t{1} << 61)));
  }
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_FLT, AV_SAMPLE_FMT_FLTP}) fits(eighth<float>(format, 0.5F, -0.25F));
  for (const AVSampleFormat format : {AV_SAMPLE_FMT_DBL, AV_SAMPLE_FMT_DBLP}) fits(eighth<double>(format, 0.5, -0.25));
}

TEST_CASE("six channels are averaged and samples are appended") {
  const FramePtr frame = frame_of(AV_SAMPLE_FMT_FLTP, 6, 3);
  for (int channel = 0; channel < 6; ++channel) {
    for (int i = 0; i < 3; ++i) put(*frame, channel, i, channel == 2 ? 0.6F : 0.0F);
  }
  std::vector<float> out{1.0F};
  REQUIRE(append_mono(*frame, out));
  REQUIRE(out.size() == 4);
  CHECK(out[0] == 1.0F);
  CHECK(out[3] == doctest::Approx(0.1));
}

TEST_CASE("samples that are no numbers, or absurd, become silence") {
  const FramePtr frame = frame_of(AV_SAMPLE_FMT_FLT, 1, 5);
  put(*frame, 0, 0, std::numeric_limits<float>::quiet_NaN());
  put(*frame, 0, 1, std::numeric_limits<float>::infinity());
  put(*frame, 0, 2, -std::numeric_limits<float>::infinity());
  put(*frame, 0, 3, 1e30F);
  put(*frame, 0, 4, 0.25F);
  std::vector<float> out;
  REQUIRE(append_mono(*frame, out));
  CHECK(out == std::vector<float>{0, 0, 0, 0, 0.25F});
}

TEST_CASE("an unknown sample format is refused and nothing is appended") {
  const FramePtr frame = frame_of(AV_SAMPLE_FMT_FLT, 1, 5);
  frame->format = 999;
  std::vector<float> out;
  CHECK(append_mono(*frame, out).error().code() == Code::unsupported);
  CHECK(out.empty());
}
