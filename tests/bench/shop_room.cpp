#include "bench/shop_room.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numbers>

#include "bench/random.h"
#include "bench/shop_sounds.h"

namespace jigtime::bench {
namespace {

constexpr double reference_distance_m = 2.0;
constexpr int kernel_half = 16;

/// A windowed sinc: an impulse between the samples.
void add_impulse(std::vector<float>& response, double at, double gain) {
  const int middle = static_cast<int>(std::lround(at));
  for (int n = std::max(0, middle - kernel_half); n <= middle + kernel_half && n < std::ssize(response); ++n) {
    const double x = n - at;
    const double sinc = std::abs(x) < 1e-9 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
    const double window = std::abs(x) > kernel_half ? 0 : 0.5 + 0.5 * std::cos(std::numbers::pi * x / kernel_half);
    response[static_cast<std::size_t>(n)] += static_cast<float>(gain * sinc * window);
  }
}

/// Coordinate of the mirrored source after `bounces` reflections between two walls, first off the far or near one.
double mirrored(double x, double width, int bounces) {
  return bounces % 2 == 0 ? bounces * width + x : (bounces + 1) * width - x;
}

void add_images(std::vector<float>& response, const Room& room, const Place& source, const Place& microphone,
                double head_start_s) {
  for (int i = -2; i <= 2; ++i) {
    for (int j = -2; j <= 2; ++j) {
      for (int k = -2; k <= 2; ++k) {
        const int bounces = std::abs(i) + std::abs(j) + std::abs(k);
        if (bounces > 2 || (bounces > 0 && room.decay_s <= 0)) continue;
        const Place image{mirrored(source.x, room.size.x, i), mirrored(source.y, room.size.y, j),
                          mirrored(source.z, room.size.z, k)};
        const double far_m = std::max(0.2, distance_m(image, microphone));
        const double at = response_latency + (far_m / speed_of_sound_m_s - head_start_s) * rate_hz;
        add_impulse(response, at, std::pow(room.reflection, bounces) * reference_distance_m / far_m);
      }
    }
  }
}

void add_tail(std::vector<float>& response, const Room& room, double direct_at, std::uint64_t number) {
  if (room.decay_s <= 0) return;
  const double volume = room.size.x * room.size.y * room.size.z;
  const double critical_m = 0.057 * std::sqrt(volume / room.decay_s);
  const double energy = reference_distance_m * reference_distance_m / (critical_m * critical_m);
  const double fall = 6.91 / (room.decay_s * rate_hz);
  const double start_gain = std::sqrt(2 * fall * energy);
  const auto first = static_cast<std::int64_t>(direct_at + 0.015 * rate_hz);
  float dull = 0;
  for (std::int64_t n = first; n < std::ssize(response); ++n) {
    // Walls and air take the high notes first.
    dull += 0.6F * (noise_at(number, n) - dull);
    const double gain = start_gain * std::exp(-fall * static_cast<double>(n - first));
    response[static_cast<std::size_t>(n)] += static_cast<float>(gain * 1.5 * dull);
  }
}

}  // namespace

double distance_m(const Place& a, const Place& b) { return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z); }

std::vector<float> room_response(const Room& room, const Place& source, const Place& microphone, Arrival arrival,
                                 std::uint64_t number, int longest) {
  const double direct_s = std::max(0.2, distance_m(source, microphone)) / speed_of_sound_m_s;
  const double head_start_s = arrival == Arrival::in_step ? direct_s : 0;
  const double direct_at = response_latency + (direct_s - head_start_s) * rate_hz;
  const int wanted = static_cast<int>(direct_at) + 2 * kernel_half +
                     static_cast<int>(std::max(0.0, std::min(1.0, 1.2 * room.decay_s)) * rate_hz);
  std::vector<float> response(static_cast<std::size_t>(std::min(longest, wanted)), 0.0F);
  add_images(response, room, source, microphone, head_start_s);
  add_tail(response, room, direct_at, number);
  return response;
}

}  // namespace jigtime::bench
