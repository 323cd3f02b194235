// A workshop of four walls, floor and ceiling: how a sound at one place is heard at another.
// Early echoes from mirrored sources (Allen and Berkley 1979, image method, here to the second order), after them
// noise that dies away exponentially, as loud as the room's critical distance asks (0.057 sqrt(V / RT60), Kuttruff).
#pragma once

#include <cstdint>
#include <vector>

namespace jigtime::bench {

struct Place {
  double x = 0, y = 0, z = 0;
};

double distance_m(const Place& a, const Place& b);

inline constexpr double speed_of_sound_m_s = 343.0;
/// Every response starts this much late, so that a fractional delay near zero has room on its left.
inline constexpr int response_latency = 32;

enum class Arrival { as_far, in_step };

struct Room {
  Place size{6, 8, 3};
  double decay_s = 0.4;  ///< RT60; 0 is a room without echoes
  double reflection = 0.6;
};

/// Response at rate_hz, at most `longest` samples. The direct sound has gain 1 at 2 m and arrives response_latency
/// samples late plus, for Arrival::as_far, distance / speed of sound.
std::vector<float> room_response(const Room& room, const Place& source, const Place& microphone, Arrival arrival,
                                 std::uint64_t number, int longest);

}  // namespace jigtime::bench
