#include "film/pace.h"

#include <doctest/doctest.h>

#include "film/film.h"
#include "film/layout.h"

using namespace jigtime;
using namespace std::chrono_literals;
using film::Pace;

namespace {

SessionRange range(Length from, Length to) { return *SessionRange::make(SessionTime{from}, SessionTime{to}); }

}  // namespace

TEST_CASE("picture n shows what n says, without a rounded length adding up") {
  const Pace pace{{{range(10s, 10s + 36'000s), 8000}}, {30000, 1001}};
  // 10 h at 8x: 36000 / 8 * 30000 / 1001 pictures, rounded up.
  CHECK(pace.count() == 134'866);
  CHECK(pace.at(0) == SessionTime{10s});
  // Exactly 134000 * 1001 / 30000 * 8 seconds.
  CHECK(pace.at(134'000) == SessionTime{10s + 35'769'066'666'667ns});
  CHECK(pace.film_time(30'000) == 1001s);
}

TEST_CASE("every picture lies inside the film's range, and the next one would not") {
  for (const int speed : {250, 333, 1000, 1500, 7777, 60'000}) {
    for (const Length length :
         {Length{1ns}, Length{40ms}, Length{33'366'667ns}, Length{1s}, Length{12'345'678'901ns}}) {
      CAPTURE(speed);
      CAPTURE(length.count());
      const Pace pace{{{range(5s, 5s + length), speed}}, {25, 1}};
      CHECK(pace.at(pace.count() - 1) < SessionTime{5s + length});
      CHECK(pace.at(pace.count()) >= SessionTime{5s + length});
    }
  }
}

TEST_CASE("the picture of an instant is the first that shows it or what follows") {
  const Pace pace{{{range(0s, 10s), 4000}, {range(10s, 12s), 1000}, {range(12s, 20s), 4000}}, {25, 1}};
  CHECK(pace.picture_at(SessionTime{-1s}) == 0);
  CHECK(pace.picture_at(SessionTime{10s}) == 63);  // 62.5, rounded up
  CHECK(pace.at(63) == SessionTime{10s});
  CHECK(pace.picture_at(SessionTime{11s}) == 63 + 25);
  CHECK(pace.speed_milli_at(62) == 4000);
  CHECK(pace.speed_milli_at(63) == 1000);
  CHECK(pace.picture_at(SessionTime{12s}) == 63 + 50);
  CHECK(pace.at(63 + 50) == SessionTime{12s});
  CHECK(pace.picture_at(SessionTime{99s}) == pace.count());
}

TEST_CASE("marks near each other share a slow stretch, and one at the edge is cut off there") {
  const auto stretches = film::paced(
      range(10s, 100s), 8000, {SessionTime{11s}, SessionTime{50s}, SessionTime{54s}, SessionTime{200s}}, 1000, 3s);
  REQUIRE(stretches.size() == 4);
  CHECK(stretches[0].range == range(10s, 14s));
  CHECK(stretches[0].speed_milli == 1000);
  CHECK(stretches[1].range == range(14s, 47s));
  CHECK(stretches[1].speed_milli == 8000);
  CHECK(stretches[2].range == range(47s, 57s));
  CHECK(stretches[3].range == range(57s, 100s));
  CHECK(film::paced(range(10s, 20s), 500, {}, 500, 3s).size() == 1);
}

TEST_CASE("panels fill the page without overlapping, and its sides are even") {
  for (int cameras = 1; cameras <= 12; ++cameras) {
    for (const int width : {320, 641, 1280, 1921}) {
      CAPTURE(cameras);
      CAPTURE(width);
      const film::Layout layout = film::lay_out(cameras, width);
      CHECK(layout.width % 2 == 0);
      CHECK(layout.height % 2 == 0);
      CHECK(layout.width <= width);
      auto boxes = layout.panels;
      REQUIRE(boxes.size() == static_cast<std::size_t>(cameras));
      boxes.push_back(layout.words);
      for (std::size_t i = 0; i < boxes.size(); ++i) {
        CHECK(boxes[i].left >= 0);
        CHECK(boxes[i].left + boxes[i].width <= layout.width);
        CHECK(boxes[i].top + boxes[i].height <= layout.height);
        for (std::size_t j = 0; j < i; ++j) {
          const bool apart =
              boxes[i].left >= boxes[j].left + boxes[j].width || boxes[j].left >= boxes[i].left + boxes[i].width ||
              boxes[i].top >= boxes[j].top + boxes[j].height || boxes[j].top >= boxes[i].top + boxes[i].height;
          CHECK(apart);
        }
      }
    }
  }
}

TEST_CASE("a film has the footage's picture rate, and sped up no more than 30") {
  const auto cameras = [](std::vector<Length> lengths) {
    std::vector<film::Camera> all;
    for (const Length length : lengths) {
      film::Clip clip;
      clip.picture_length = length;
      clip.pieces = {{}};
      all.push_back({"", {clip}});
    }
    return all;
  };
  const auto rate = [&](std::vector<Length> lengths, int speed) {
    const auto found = film::film_rate(cameras(std::move(lengths)), speed);
    return std::pair{found.num, found.den};
  };
  CHECK(rate({40ms, 33'366'667ns}, 1000) == std::pair{30000, 1001});
  CHECK(rate({40ms}, 8000) == std::pair{25, 1});
  CHECK(rate({16'666'667ns}, 1000) == std::pair{60, 1});
  CHECK(rate({16'666'667ns}, 2000) == std::pair{30, 1});
  CHECK(rate({1ms}, 1000) == std::pair{60, 1});
  CHECK(rate({}, 1000) == std::pair{30, 1});
}
