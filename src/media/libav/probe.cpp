#include "media/probe.h"

#include <cmath>

extern "C" {
#include <libavutil/display.h>
}

#include "base/text.h"
#include "media/libav/clocks.h"
#include "media/libav/decoder.h"
#include "media/libav/ending.h"
#include "media/libav/ends.h"
#include "media/libav/shape.h"
#include "media/libav/source.h"

namespace jigtime::media {
namespace {

std::string container_name(const AVFormatContext& format) {
  const std::string name = format.iformat->name;
  if (name == "matroska,webm") return "matroska";
  if (name != "mov,mp4,m4a,3gp,3g2,mj2") return name;
  const AVDictionaryEntry* brand = av_dict_get(format.metadata, "major_brand", nullptr, 0);
  return brand == nullptr || std::string_view{brand->value} == "qt  " ? "mov" : "mp4";
}

/// Decodes up to the first sample that is presented (the decoder drops what comes before) and completes `info` with
/// what only decoding tells. False when there is none, as far as this machine can decode.
Result<bool> find_first_sample(Source& source, SoundInfo& info) {
  const AVStream& stream = *source.sound();
  Result<Decoder> decoder = Decoder::open(stream, BadData::skip);
  PacketPtr packet{av_packet_alloc()};
  if (!decoder || packet == nullptr) return false;
  source.read_only(&stream);
  bool found = false;
  const auto take = [&](const AVFrame& frame) -> Done {
    if (found || frame.nb_samples <= 0) return {};
    found = true;
    info.begin = source.clip_time(frame.best_effort_timestamp, stream).value_or(info.begin);
    info.sample_rate_hz = frame.sample_rate;
    info.channels = frame.ch_layout.nb_channels;
    return {};
  };
  while (!found) {
    const Result<bool> got = source.read(*packet);
    if (!got) return got.error();
    if (const Done decoded = decoder->decode(*got ? packet.get() : nullptr, take); !decoded) return decoded.error();
    if (!*got) break;
  }
  return found;
}

PictureInfo describe_pictures(const Source& source) {
  const AVStream& stream = *source.pictures();
  PictureInfo info;
  info.codec = avcodec_get_name(stream.codecpar->codec_id);
  const Shape shape = shown_shape(stream);
  info.width = shape.width;
  info.height = shape.height;
  info.rotation_degrees = shape.rotation_degrees;
  const AVRational rate = picture_rate(source);
  info.rate_num = rate.num;
  info.rate_den = rate.den;
  if (rate.num > 0) info.picture_length = Length{scaled(1'000'000'000, rate.den, rate.num)};
  return info;
}

SoundInfo describe_sound(const Source& source) {
  const AVStream& stream = *source.sound();
  SoundInfo info;
  info.begin = source.clip_time(stream.start_time, stream).value_or(ClipTime{});
  info.codec = avcodec_get_name(stream.codecpar->codec_id);
  info.sample_rate_hz = stream.codecpar->sample_rate;
  info.channels = stream.codecpar->ch_layout.nb_channels;
  return info;
}

void note_what_is_missing(Source& source, MediaInfo& info) {
  if (source.pictures() != nullptr && !source.can_decode(*source.pictures())) {
    info.notes.push_back("Its pictures cannot be shown: there is no decoder for " + info.picture->codec + " here.");
  }
  if (info.sound && !source.can_decode(*source.sound())) {
    info.notes.push_back("Its sound cannot be heard: there is no decoder for " + info.sound->codec + " here.");
  }
  if (const std::optional<std::string> broken = broken_ending(source.file(), source.format().iformat->name)) {
    info.notes.push_back(*broken);
  }
}

}  // namespace

Result<MediaInfo> probe(const std::filesystem::path& path, std::stop_token stop) {
  Result<Source> opened = Source::open(path, std::move(stop));
  if (!opened) return opened.error();
  Source& source = *opened;
  MediaInfo info;
  info.container = container_name(source.format());
  if (source.pictures() != nullptr) info.picture = describe_pictures(source);
  if (source.sound() != nullptr) {
    info.sound = describe_sound(source);
    const Result<bool> found = find_first_sample(source, *info.sound);
    if (!found) return found.error();
    // A transport stream may announce sound that never comes.
    if (!*found && info.sound->sample_rate_hz == 0) info.sound.reset();
  }
  if (!info.picture && !info.sound)
    return Error{Code::unsupported, source.name() + " holds no sound that can be heard."};
  const Result<Ends> ends = find_ends(source);
  if (!ends) return ends.error();
  if (info.picture) info.picture->end = ends->pictures.value_or(ClipTime{});
  if (info.sound) info.sound->end = std::max(ends->sound.value_or(ClipTime{}), info.sound->begin);
  info.length = info.picture ? info.picture->end.time_since_epoch() : info.sound->end.time_since_epoch();
  info.clocks = clocks_of(source, path);
  note_what_is_missing(source, info);
  return info;
}

Result<std::string> comment_of(const std::filesystem::path& path, std::stop_token stop) {
  const Result<Source> source = Source::open(path, std::move(stop));
  if (!source) return source.error();
  const AVDictionaryEntry* found = av_dict_get(source->format().metadata, "comment", nullptr, 0);
  return found != nullptr ? to_utf8(found->value) : std::string{};
}

}  // namespace jigtime::media
