#include "app/view/loudness.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

TEST_CASE("the loudest of a stretch is found at every zoom, never less than the true one") {
  std::mt19937 random{7};
  std::vector<std::uint8_t> peaks(20 * 600);
  for (auto& peak : peaks) peak = static_cast<std::uint8_t>(random() % 200);
  peaks[5000] = 255;
  const Loudness loudness{ClipTime{}, 20, peaks};
  for (const Length length : {Length{100ms}, Length{1s}, Length{30s}, Length{300s}}) {
    for (Length from{0}; from + length <= 600s; from += length) {
      const auto first = from / 50ms;
      const auto last = (from + length) / 50ms;
      const std::uint8_t truth = *std::max_element(peaks.begin() + first, peaks.begin() + last);
      CHECK(loudness.loudest(ClipTime{from}, ClipTime{from + length}) >= truth);
    }
  }
  CHECK(loudness.loudest(ClipTime{0s}, ClipTime{600s}) == 255);
}

TEST_CASE("outside the sound and without any there is silence") {
  const Loudness loudness{ClipTime{1s}, 20, {9, 9, 9}};
  CHECK(loudness.loudest(ClipTime{-50s}, ClipTime{-49s}) == 0);
  CHECK(loudness.loudest(ClipTime{50s}, ClipTime{51s}) == 0);
  CHECK(loudness.loudest(ClipTime{0s}, ClipTime{100s}) == 9);
  CHECK(Loudness{}.loudest(ClipTime{}, ClipTime{1s}) == 0);
  CHECK(Loudness{ClipTime{}, 20, {}}.empty());
}
