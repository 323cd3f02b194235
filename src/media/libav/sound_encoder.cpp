#include "media/libav/sound_encoder.h"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "media/libav/error.h"

namespace jigtime::media {
namespace {

constexpr int most_channels = 8;

bool offers_rate(const AVCodec& encoder, int rate_hz) {
  if (encoder.supported_samplerates == nullptr) return true;
  for (const int* rate = encoder.supported_samplerates; *rate != 0; ++rate) {
    if (*rate == rate_hz) return true;
  }
  return false;
}

Done check(const WriterSettings::Sound& settings, const AVCodec& encoder) {
  if (settings.channels < 1 || settings.channels > most_channels) {
    return Error{Code::invalid, "Sound has 1 to " + std::to_string(most_channels) + " channels."};
  }
  if (settings.sample_rate_hz < 1000 || settings.sample_rate_hz > 384000 ||
      !offers_rate(encoder, settings.sample_rate_hz)) {
    return Error{Code::invalid, settings.codec + " does not do " + std::to_string(settings.sample_rate_hz) + " Hz."};
  }
  return {};
}

/// One channel of floats to all channels of the encoder, at full level each.
Result<ResamplerPtr> spread_to(AVCodecContext& codec) {
  AVChannelLayout one = AV_CHANNEL_LAYOUT_MONO;
  SwrContext* made = nullptr;
  int code = swr_alloc_set_opts2(&made, &codec.ch_layout, codec.sample_fmt, codec.sample_rate, &one, AV_SAMPLE_FMT_FLTP,
                                 codec.sample_rate, 0, nullptr);
  ResamplerPtr spread{made};
  std::array<double, most_channels> as_it_is{};
  as_it_is.fill(1.0);
  if (code >= 0) code = swr_set_matrix(spread.get(), as_it_is.data(), 1);
  if (code >= 0) code = swr_init(spread.get());
  if (code < 0) return from_libav(code, "The sound cannot be brought into the encoder's form", Deed::writing);
  return spread;
}

}  // namespace

Result<SoundEncoder> SoundEncoder::open(AVFormatContext& output, const WriterSettings::Sound& settings) {
  Result<Encoder> encoder = Encoder::make(output, settings.codec.c_str(), AVMEDIA_TYPE_AUDIO);
  if (!encoder) return encoder.error();
  AVCodecContext& codec = encoder->codec();
  if (const Done fits = check(settings, *codec.codec); !fits) return fits.error();
  av_channel_layout_default(&codec.ch_layout, settings.channels);
  codec.sample_rate = settings.sample_rate_hz;
  codec.time_base = {1, settings.sample_rate_hz};
  codec.sample_fmt = codec.codec->sample_fmts != nullptr ? codec.codec->sample_fmts[0] : AV_SAMPLE_FMT_FLTP;
  codec.bit_rate = settings.bits_per_second;
  if (const Done opened = encoder->open(nullptr); !opened) return opened.error();
  Result<ResamplerPtr> spread = spread_to(codec);
  if (!spread) return spread.error();
  SoundEncoder made{std::move(*encoder), std::move(*spread)};
  if (codec.frame_size > 0) made.frame_samples_ = static_cast<std::size_t>(codec.frame_size);
  const auto delay = static_cast<std::size_t>(std::max(codec.initial_padding, 0));
  const std::string_view container = output.oformat->name;
  // AVI counts its sound from zero and knows no delay: without these samples the rest is heard on time.
  if (container == "avi") made.to_drop_ = delay;
  // Matroska tells of Opus' delay in the track's head; its stamps are those before the delay is taken off.
  const bool told_apart = container == "matroska" && codec.codec_id == AV_CODEC_ID_OPUS;
  if (container == "avi" || told_apart) made.position_ = static_cast<std::int64_t>(delay);
  return made;
}

Done SoundEncoder::write(std::span<const float> samples) {
  const std::size_t dropped = std::min(to_drop_, samples.size());
  to_drop_ -= dropped;
  samples = samples.subspan(dropped);
  waiting_.insert(waiting_.end(), samples.begin(), samples.end());
  std::size_t from = 0;
  for (; waiting_.size() - from >= frame_samples_; from += frame_samples_) {
    if (const Done encoded = encode(from, frame_samples_); !encoded) return encoded;
  }
  waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(from));
  return {};
}

Done SoundEncoder::encode(std::size_t from, std::size_t count) {
  AVCodecContext& codec = encoder_.codec();
  FramePtr frame{av_frame_alloc()};
  if (frame == nullptr) return Error{Code::internal, "There is not enough memory for sound."};
  frame->format = codec.sample_fmt;
  frame->sample_rate = codec.sample_rate;
  frame->nb_samples = static_cast<int>(count);
  int code = av_channel_layout_copy(&frame->ch_layout, &codec.ch_layout);
  if (code >= 0) code = av_frame_get_buffer(frame.get(), 0);
  if (code >= 0) {
    const auto* samples = reinterpret_cast<const std::uint8_t*>(waiting_.data() + from);
    code = swr_convert(spread_.get(), frame->extended_data, frame->nb_samples, &samples, frame->nb_samples);
  }
  if (code < 0) return from_libav(code, "The sound cannot be brought into the encoder's form", Deed::writing);
  frame->pts = position_;
  position_ += frame->nb_samples;
  return encoder_.send(frame.get());
}

Done SoundEncoder::finish() {
  if (!waiting_.empty()) {
    if (const Done encoded = encode(0, waiting_.size()); !encoded) return encoded;
    waiting_.clear();
  }
  return encoder_.send(nullptr);
}

}  // namespace jigtime::media
