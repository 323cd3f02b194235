#include "media/listening.h"

#include <chrono>
#include <cmath>
#include <stdexcept>

namespace jigtime::test {

Heard listen(media::SoundReader& reader, int rate_hz) {
  Heard heard;
  while (true) {
    Result<std::optional<SoundBlock>> block = reader.next();
    if (!block) throw std::runtime_error{block.error().message()};
    if (!*block) return heard;
    const SoundBlock& part = **block;
    if (heard.samples.empty()) {
      heard.begin = part.start;
    } else if (std::chrono::abs(part.start - heard.end) > Length{1}) {
      heard.gaps.push_back({heard.end, part.start});
    }
    for (std::size_t i = 0; i < part.samples.size(); ++i) {
      if (std::abs(part.samples[i]) <= heard.level) continue;
      heard.level = std::abs(part.samples[i]);
      heard.loudest = part.start + Length{scaled(static_cast<std::int64_t>(i), 1'000'000'000, rate_hz)};
    }
    heard.samples.insert(heard.samples.end(), part.samples.begin(), part.samples.end());
    heard.end = part.start + Length{scaled(static_cast<std::int64_t>(part.samples.size()), 1'000'000'000, rate_hz)};
  }
}

Heard listen(const std::filesystem::path& path, int rate_hz) {
  Result<media::SoundReader> reader = media::SoundReader::open(path, rate_hz);
  if (!reader) throw std::runtime_error{reader.error().message()};
  return listen(*reader, rate_hz);
}

Seen look(const std::filesystem::path& path, int most_width) {
  Result<media::PictureReader> reader = media::PictureReader::open(path, most_width);
  if (!reader) throw std::runtime_error{reader.error().message()};
  Seen seen{{}, {}, ClipTime{Length{-1}}};
  while (true) {
    Result<std::optional<media::TimedPicture>> next = reader->next();
    if (!next) throw std::runtime_error{next.error().message()};
    if (!*next) return seen;
    if (seen.flash < ClipTime{} && brightness((*next)->picture) > 180) seen.flash = (*next)->at;
    seen.times.push_back((*next)->at);
    seen.pictures.push_back(std::move((*next)->picture));
  }
}

int brightness(const Picture& picture) {
  const std::size_t middle = (static_cast<std::size_t>(picture.height / 2) * static_cast<std::size_t>(picture.width) +
                              static_cast<std::size_t>(picture.width / 2)) *
                             4;
  return (picture.rgba[middle] + picture.rgba[middle + 1] + picture.rgba[middle + 2]) / 3;
}

ClipTime at_seconds(double seconds) { return ClipTime{from_seconds(seconds)}; }

}  // namespace jigtime::test
