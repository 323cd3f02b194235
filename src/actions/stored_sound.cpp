#include "actions/stored_sound.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>

namespace jigtime::actions {
namespace {

constexpr float full_scale = 32767;
constexpr float to_unit = 1 / full_scale;

}  // namespace

StoredSound::~StoredSound() { ::close(file_); }

Done StoredSound::read(std::int64_t first, std::span<float> out) const {
  const std::int64_t end = first + static_cast<std::int64_t>(out.size());
  if (first >= count_ || end <= 0) {
    std::fill(out.begin(), out.end(), 0.0F);
    return {};
  }
  const std::int64_t from = std::max<std::int64_t>(first, 0), to = std::min(end, count_);
  std::fill_n(out.begin(), from - first, 0.0F);
  std::fill(out.begin() + (to - first), out.end(), 0.0F);
  std::array<std::int16_t, 8192> chunk{};
  for (std::int64_t at = from; at < to;) {
    const auto wanted = static_cast<std::size_t>(std::min<std::int64_t>(to - at, std::ssize(chunk)));
    const ssize_t got =
        ::pread(file_, chunk.data(), wanted * sizeof(std::int16_t), at * std::int64_t{sizeof(std::int16_t)});
    if (got < 0 && errno == EINTR) continue;
    if (got < static_cast<ssize_t>(sizeof(std::int16_t))) {
      return Error{Code::unreadable, "The kept sound could not be read back. Line up again."};
    }
    const auto samples = static_cast<std::size_t>(got) / sizeof(std::int16_t);
    float* const target = out.data() + (at - first);
    for (std::size_t i = 0; i < samples; ++i) target[i] = static_cast<float>(chunk[i]) * to_unit;
    at += static_cast<std::int64_t>(samples);
  }
  return {};
}

void to_16_bits(std::span<const float> samples, std::vector<std::int16_t>& to) {
  to.resize(samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const float level = std::clamp(samples[i], -1.0F, 1.0F) * full_scale;
    to[i] = static_cast<std::int16_t>(level + std::copysign(0.5F, level));
  }
}

}  // namespace jigtime::actions
