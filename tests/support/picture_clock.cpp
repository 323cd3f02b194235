#include "support/picture_clock.h"

#include <algorithm>
#include <stdexcept>

#include "media/writer.h"

namespace jigtime::test {
namespace {

constexpr int fields = 4;  // each way
constexpr int number_bits = 12;
constexpr int sound_rate_hz = 48000;
constexpr int click_samples = 24;

unsigned ones(unsigned word) {
  unsigned count = 0;
  for (; word != 0; word >>= 1U) count += word & 1U;
  return count;
}

/// Number, camera, a field that is always lit, and one that makes the lit ones even.
unsigned word_of(int number, int camera) {
  unsigned word = static_cast<unsigned>(number) | static_cast<unsigned>(camera) << number_bits | 1U << 14U;
  if (ones(word) % 2 != 0) word |= 1U << 15U;
  return word;
}

/// Sound from `from` to `to`, counted from the file's beginning.
std::vector<float> clicks(std::int64_t from, std::int64_t to) {
  std::vector<float> samples(static_cast<std::size_t>(to - from), 0.0F);
  for (std::int64_t n = from; n < to; ++n) {
    if (n % sound_rate_hz < click_samples) samples[static_cast<std::size_t>(n - from)] = n % 2 == 0 ? 0.8F : 0.6F;
  }
  return samples;
}

void must(const Done& done) {
  if (!done) throw std::runtime_error{done.error().message()};
}

}  // namespace

Picture marked_picture(int number, int camera, int width, int height) {
  Picture picture = Picture::blank(width, height);
  const unsigned word = word_of(number, camera);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const int field = y * fields / height * fields + x * fields / width;
      const auto level = static_cast<std::uint8_t>((word >> static_cast<unsigned>(field) & 1U) != 0 ? 225 : 30);
      std::uint8_t* pixel =
          &picture
               .rgba[(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 4];
      std::fill_n(pixel, 3, level);
    }
  }
  return picture;
}

void make_marked_clip(const std::filesystem::path& path, const MarkedPlan& plan) {
  media::WriterSettings settings;
  settings.container = plan.container;
  settings.pictures.emplace();
  settings.pictures->codec = plan.picture_codec;
  settings.pictures->width = plan.width;
  settings.pictures->height = plan.height;
  settings.pictures->rate_num = plan.rate_num;
  settings.pictures->rate_den = plan.rate_den;
  settings.pictures->key_every = plan.key_every;
  if (!plan.sound_codec.empty()) {
    settings.sound.emplace();
    settings.sound->codec = plan.sound_codec;
  }
  auto writer = media::Writer::open(path, settings);
  if (!writer) throw std::runtime_error{writer.error().message()};
  const auto sample_at = [&](int picture) {
    return scaled(picture, std::int64_t{sound_rate_hz} * plan.rate_den, plan.rate_num);
  };
  for (int n = 0; n < plan.pictures; ++n) {
    must(writer->write(marked_picture(plan.first_number + n, plan.camera, plan.width, plan.height)));
    if (settings.sound) must(writer->write(clicks(sample_at(n), sample_at(n + 1))));
  }
  must(writer->finish());
}

std::optional<Marking> read_marking(const Picture& picture, int left, int top, int width, int height) {
  unsigned word = 0;
  for (int field = 0; field < fields * fields; ++field) {
    const int x = left + (field % fields * 2 + 1) * width / (2 * fields);
    const int y = top + (field / fields * 2 + 1) * height / (2 * fields);
    if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) return std::nullopt;
    const int level = picture.rgba[(static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                    static_cast<std::size_t>(x)) *
                                       4 +
                                   1];
    if (level > 90 && level < 165) return std::nullopt;
    if (level >= 165) word |= 1U << static_cast<unsigned>(field);
  }
  if ((word >> 14U & 1U) == 0 || ones(word) % 2 != 0) return std::nullopt;
  return Marking{static_cast<int>(word & ((1U << number_bits) - 1)), static_cast<int>(word >> number_bits & 3U)};
}

std::optional<Marking> read_marking(const Picture& picture) {
  return read_marking(picture, 0, 0, picture.width, picture.height);
}

film::Clip placed_clip(const std::filesystem::path& path, const MarkedPlan& plan, SessionTime start,
                       std::int64_t rate_ppb) {
  const Length length{scaled(plan.pictures, std::int64_t{1'000'000'000} * plan.rate_den, plan.rate_num)};
  film::Clip clip;
  clip.name = path.filename().string();
  clip.parts = {{path, {}, {}, ClipTime{}, length}};
  clip.pieces = {{ClipTime{}, ClipTime{length}, start, rate_ppb, Length{0}}};
  clip.picture_length = Length{scaled(1, std::int64_t{1'000'000'000} * plan.rate_den, plan.rate_num)};
  clip.has_sound = !plan.sound_codec.empty();
  return clip;
}

}  // namespace jigtime::test
