#include "sync/shop.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "signal/fft.h"

namespace jigtime::test {

namespace {

constexpr double rate_hz = sync::sample_rate_hz;
constexpr double metres_per_second = 343;
constexpr double turn = 2 * std::numbers::pi;

/// A blow on metal: a few damped partials and a click.
void add_blow(std::vector<float>& to, double at, double level, Dice& dice) {
  for (int partial = 0; partial < 5; ++partial) {
    const double hz = dice.uniform(350, 6500), decay = dice.uniform(60, 300), phase = dice.uniform(0, turn);
    const double strength = level * dice.uniform(0.2, 1);
    const auto first = static_cast<std::size_t>(std::max(0.0, at * rate_hz));
    const std::size_t last = std::min(to.size(), first + static_cast<std::size_t>(6 / decay * rate_hz));
    for (std::size_t i = first; i < last; ++i) {
      const double t = static_cast<double>(i) / rate_hz - at;
      to[i] += static_cast<float>(strength * std::exp(-decay * t) * std::sin(turn * hz * t + phase));
    }
  }
}

void add_hammering(std::vector<float>& to, double length, double level, Dice& dice) {
  const double period = 1 / dice.uniform(24, 45), jitter = dice.uniform(0.01, 0.05);
  const std::uint64_t tool = dice.number();
  for (double at = 0.01; at < length; at += period * (1 + jitter * dice.normal())) {
    Dice same{tool};  // every blow of one tool rings alike
    add_blow(to, at, level * dice.uniform(0.7, 1), same);
  }
}

void add_clatter(std::vector<float>& to, double length, double level, Dice& dice) {
  const int hits = 1 + dice.below(6);
  for (int i = 0; i < hits; ++i) add_blow(to, dice.uniform(0, length * 0.7), level * dice.uniform(0.3, 1), dice);
}

void add_talk(std::vector<float>& to, double length, double level, Dice& dice) {
  double phase = 0;
  for (double at = 0; at < length;) {
    const double syllable = dice.uniform(0.12, 0.3), pitch = dice.uniform(95, 220);
    const double formants[3] = {dice.uniform(300, 800), dice.uniform(900, 2200), dice.uniform(2400, 3500)};
    std::vector<double> strengths;
    for (double hz = pitch; hz < 4000; hz += pitch) {
      double strength = 0;
      for (const double formant : formants) strength += 1 / (1 + std::pow((hz - formant) / 120, 2));
      strengths.push_back(strength);
    }
    const auto first = static_cast<std::size_t>(at * rate_hz);
    const std::size_t last = std::min(to.size(), static_cast<std::size_t>((at + syllable * 0.8) * rate_hz));
    for (std::size_t i = first; i < last; ++i) {
      const double in = (static_cast<double>(i) / rate_hz - at) / (syllable * 0.8);
      phase += turn * pitch / rate_hz;
      double sum = 0;
      for (std::size_t h = 0; h < strengths.size(); ++h) {
        sum += strengths[h] * std::sin(static_cast<double>(h + 1) * phase);
      }
      to[i] += static_cast<float>(0.5 * level * std::sin(std::numbers::pi * in) * sum);
    }
    at += syllable * (dice.uniform(0, 1) < 0.15 ? 3 : 1);
  }
}

void add_music(std::vector<float>& to, double length, double level, Dice& dice) {
  const double beat = dice.uniform(0.25, 0.4);
  for (double at = 0; at < length; at += beat) {
    const double hz = 220 * std::exp2(dice.below(24) / 12.0);
    const auto first = static_cast<std::size_t>(at * rate_hz);
    const std::size_t last = std::min(to.size(), first + static_cast<std::size_t>(2 * beat * rate_hz));
    for (std::size_t i = first; i < last; ++i) {
      const double t = static_cast<double>(i) / rate_hz - at;
      double sum = 0;
      for (int h = 1; h <= 6; ++h) sum += std::sin(turn * hz * h * t) / h;
      to[i] += static_cast<float>(0.4 * level * std::exp(-5 * t) * sum);
    }
    add_blow(to, at, 0.3 * level, dice);
  }
}

void add_compressor(std::vector<float>& to, double level, Dice& dice) {
  const double hz = dice.uniform(22, 27);
  std::vector<double> phases;
  for (int h = 0; h < 120; ++h) phases.push_back(dice.uniform(0, turn));
  for (std::size_t i = 0; i < to.size(); ++i) {
    const double t = static_cast<double>(i) / rate_hz;
    double sum = 0;
    for (int h = 4; h < 120; h += 3) sum += std::sin(turn * hz * h * t + phases[static_cast<std::size_t>(h)]) / 8;
    to[i] += static_cast<float>(level * sum);
  }
}

std::vector<float> sound_of(const Happening& happening) {
  Dice dice{happening.number};
  std::vector<float> sound(static_cast<std::size_t>((happening.length + 0.3) * rate_hz), 0.0f);
  switch (happening.deed) {
    case Deed::hammering: add_hammering(sound, happening.length, happening.level, dice); break;
    case Deed::clatter: add_clatter(sound, happening.length, happening.level, dice); break;
    case Deed::talk: add_talk(sound, happening.length, happening.level, dice); break;
    case Deed::music: add_music(sound, happening.length, happening.level, dice); break;
    case Deed::compressor: add_compressor(sound, happening.level, dice); break;
  }
  return sound;
}

/// Windowed sincs of eight taps for 1024 places between two samples.
const std::vector<std::array<float, 8>>& sincs() {
  static const std::vector<std::array<float, 8>> table = [] {
    std::vector<std::array<float, 8>> made(1025);
    for (std::size_t i = 0; i < made.size(); ++i) {
      for (std::size_t tap = 0; tap < 8; ++tap) {
        const double x = static_cast<double>(i) / 1024 + 3 - static_cast<double>(tap);
        const double sinc = std::abs(x) < 1e-9 ? 1 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
        made[i][tap] = static_cast<float>(sinc * (0.5 + 0.5 * std::cos(std::numbers::pi * x / 4.5)));
      }
    }
    return made;
  }();
  return table;
}

float between(std::span<const float> samples, double place) {
  const auto whole = static_cast<std::ptrdiff_t>(std::floor(place));
  const auto& taps = sincs()[static_cast<std::size_t>((place - static_cast<double>(whole)) * 1024 + 0.5)];
  float sum = 0;
  for (std::ptrdiff_t tap = 0; tap < 8; ++tap) {
    const std::ptrdiff_t k = whole - 3 + tap;
    if (k < 0 || k >= static_cast<std::ptrdiff_t>(samples.size())) continue;
    sum += samples[static_cast<std::size_t>(k)] * taps[static_cast<std::size_t>(tap)];
  }
  return sum;
}

void add_heard(std::vector<float>& track, const Take& take, const std::vector<float>& sound, double arrival) {
  double shift = 0;
  for (const Loss& loss : take.losses) shift += loss.seconds;
  // A loss moves what follows to earlier clip times: begin before the earliest of them.
  const double earliest = (arrival - take.start - shift) / (1 + 2e-4) - 1;
  const double latest = (arrival - take.start) / (1 - 2e-4) + static_cast<double>(sound.size()) / rate_hz + 1;
  const auto first = static_cast<std::ptrdiff_t>(std::max(0.0, earliest * rate_hz));
  const auto last = std::min(static_cast<std::ptrdiff_t>(track.size()), static_cast<std::ptrdiff_t>(latest * rate_hz));
  for (std::ptrdiff_t n = first; n < last; ++n) {
    const double place = (take.session_at(static_cast<double>(n) / rate_hz) - arrival) * rate_hz;
    if (place < -4 || place > static_cast<double>(sound.size()) + 4) continue;
    track[static_cast<std::size_t>(n)] += between(sound, place);
  }
}

std::vector<float> room(const Take& take, int spot) {
  if (take.reverberation <= 0) return {1.0f};
  Dice dice{take.number * 1000 + static_cast<std::uint64_t>(spot)};
  std::vector<float> response(1 + static_cast<std::size_t>(take.reverberation * rate_hz), 0.0f);
  double energy = 0;
  for (std::size_t i = 30; i < response.size(); ++i) {
    const double t = static_cast<double>(i) / rate_hz;
    response[i] = static_cast<float>(dice.normal() * std::exp(-6.9 * t / take.reverberation));
    energy += static_cast<double>(response[i]) * response[i];
  }
  for (float& tap : response) tap = static_cast<float>(tap / std::sqrt(energy));
  if (!response.empty()) response[0] = static_cast<float>(take.direct);
  return response;
}

/// Overlap-add, so that an hour needs no hour-long transform.
void add_convolved(std::vector<float>& to, const std::vector<float>& track, const std::vector<float>& response) {
  const int size = 65536;
  const std::size_t step = static_cast<std::size_t>(size) - response.size();
  const signal::RealFft fft{size};
  signal::Samples block(static_cast<std::size_t>(size), 0.0f);
  signal::Spectrum filter, spectrum;
  std::copy(response.begin(), response.end(), block.begin());
  fft.forward(block, filter);
  for (std::size_t from = 0; from < track.size(); from += step) {
    const std::size_t count = std::min(step, track.size() - from);
    std::fill(block.begin(), block.end(), 0.0f);
    std::copy_n(track.begin() + static_cast<std::ptrdiff_t>(from), count, block.begin());
    fft.forward(block, spectrum);
    for (std::size_t k = 0; k < spectrum.size(); ++k) spectrum[k] *= filter[k];
    fft.inverse(spectrum, block);
    const std::size_t end = std::min(block.size(), to.size() - from);
    for (std::size_t i = 0; i < end; ++i) to[from + i] += block[i];
  }
}

/// Root mean square while something sounds: over the loudest quarter of 50 ms stretches.
double active_level(std::span<const float> samples) {
  std::vector<double> powers;
  const std::size_t step = 800;
  for (std::size_t from = 0; from + step <= samples.size(); from += step) {
    double power = 0;
    for (std::size_t i = from; i < from + step; ++i) power += static_cast<double>(samples[i]) * samples[i];
    powers.push_back(power / static_cast<double>(step));
  }
  std::sort(powers.rbegin(), powers.rend());
  powers.resize(std::max<std::size_t>(1, powers.size() / 4));
  double sum = 0;
  for (const double power : powers) sum += power;
  return std::sqrt(sum / static_cast<double>(powers.size()));
}

void add_own_noise(std::vector<float>& samples, const Take& take) {
  const double level = std::max(1e-6, active_level(samples)) * std::pow(10, -take.snr_db / 20);
  Dice dice{take.number * 7919 + 3};
  double slow = 0;
  for (float& sample : samples) {
    const double white = dice.normal();
    slow = 0.95 * slow + 0.31 * white;  // some rumble under the hiss
    sample += static_cast<float>(level * 0.7 * (white + slow));
  }
}

void pump(std::vector<float>& samples) {
  double level = 0.05;
  for (float& sample : samples) {
    const double here = std::abs(sample);
    level += (here > level ? 0.002 : 0.00002) * (here - level);
    sample = static_cast<float>(sample * 0.2 / std::max(level, 0.02));
  }
}

}  // namespace

double Dice::normal() {
  const double radius = std::sqrt(-2 * std::log(1 - uniform(0, 1)));
  return radius * std::cos(turn * uniform(0, 1));
}

Shop make_shop(const ShopPlan& plan) {
  Shop shop;
  Dice dice{plan.number};
  for (int i = 0; i < plan.spots; ++i) {
    shop.spots.push_back({dice.uniform(-0.5, 0.5) * plan.width, dice.uniform(-0.5, 0.5) * plan.width});
  }
  for (double at = dice.uniform(0, plan.every); at < plan.seconds;
       at += -plan.every * std::log(1 - dice.uniform(0, 1))) {
    const double kind = dice.uniform(0, 1);
    Happening one{.at = at, .spot = dice.below(plan.spots), .level = dice.uniform(0.2, 1), .number = dice.number()};
    one.deed = kind < plan.music ? Deed::music : kind < 0.4 ? Deed::hammering : kind < 0.8 ? Deed::clatter : Deed::talk;
    one.length = one.deed == Deed::music ? dice.uniform(20, 60) : dice.uniform(0.5, 3);
    shop.happenings.push_back(one);
  }
  if (plan.compressor) {
    const std::uint64_t machine = dice.number();
    for (double at = 5; at < plan.seconds; at += 90) {
      shop.happenings.push_back(
          {.at = at, .length = 45, .deed = Deed::compressor, .spot = 0, .level = 0.5, .number = machine});
    }
  }
  return shop;
}

double Take::session_at(double clip_seconds) const {
  double lost = 0;
  for (const Loss& loss : losses) {
    if (clip_seconds >= loss.at) lost += loss.seconds;
  }
  const double drift =
      rate_ppm * 1e-6 * clip_seconds + rate_slope_ppm_per_hour * 1e-6 / 7200 * clip_seconds * clip_seconds;
  return start + clip_seconds + drift + lost;
}

Done MemorySound::read(std::int64_t first, std::span<float> out) const {
  for (std::size_t i = 0; i < out.size(); ++i) {
    const std::int64_t n = first + static_cast<std::int64_t>(i);
    out[i] = n < 0 || n >= count() ? 0.0f : samples_[static_cast<std::size_t>(n)];
  }
  return {};
}

std::vector<float> record(const Shop& shop, const Take& take) {
  const auto count = static_cast<std::size_t>(take.seconds * rate_hz);
  std::vector<float> heard(count, 0.0f);
  const double end = take.session_at(take.seconds) + 1;
  for (std::size_t spot = 0; spot < shop.spots.size(); ++spot) {
    const double distance = std::hypot(shop.spots[spot].x - take.microphone.x, shop.spots[spot].y - take.microphone.y);
    std::vector<float> track(count, 0.0f);
    for (const Happening& one : shop.happenings) {
      const double arrival = one.at + distance / metres_per_second;
      if (one.spot != static_cast<int>(spot) || arrival > end || arrival + one.length + 1 < take.start) continue;
      add_heard(track, take, sound_of(one), arrival);
    }
    add_convolved(heard, track, room(take, static_cast<int>(spot)));
  }
  add_own_noise(heard, take);
  if (take.pumping) pump(heard);
  for (float& sample : heard) sample = static_cast<float>(std::clamp(sample * take.gain, -1.0, 1.0));
  return heard;
}

sync::Features features_of(std::span<const float> samples, ClipTime origin) {
  sync::FeatureMaker maker{origin};
  for (std::size_t from = 0; from < samples.size(); from += 1000) {
    maker.add(samples.subspan(from, std::min<std::size_t>(1000, samples.size() - from)));
  }
  return maker.finish();
}

sync::ClipInput& Footage::add(const Shop& shop, const Take& take, int camera) {
  takes.push_back(take);
  sounds.push_back(std::make_unique<MemorySound>(record(shop, take)));
  features.push_back(std::make_unique<sync::Features>(features_of(sounds.back()->samples())));
  sync::ClipInput clip;
  clip.camera = camera;
  clip.length = from_seconds(take.seconds);
  clip.features = features.back().get();
  clip.sound = sounds.back().get();
  clips.push_back(std::move(clip));
  return clips.back();
}

double placed_at(const sync::ClipResult& clip, double clip_seconds) {
  const Piece* piece = piece_at(clip.pieces, ClipTime{from_seconds(clip_seconds)});
  return piece == nullptr ? NAN : to_seconds(piece->to_session(ClipTime{from_seconds(clip_seconds)}));
}

}  // namespace jigtime::test
