#include "sync/close_search.h"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>

#include "sync/blows.h"
#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;
using namespace jigtime::test;

namespace {

/// One clip as the search sees it.
struct Ear {
  explicit Ear(std::vector<float> samples, ClipTime origin = {})
      : frames{features_of(samples, origin)}, sound{std::move(samples), origin}, hearing{&sound} {
    hearable = {&frames, &hearing, hearing.origin(), hearing.end(), {}};
  }
  Frames frames;
  MemorySound sound;
  Hearing hearing;
  Hearable hearable;
};

Extent all_of(const Ear& ear) { return {ear.hearable.from, ear.hearable.to}; }

}  // namespace

TEST_CASE("windows under noise six times as strong are found where they lie, to a sample or two") {
  const Shop shop = make_shop({.number = 61, .seconds = 140, .every = 2});
  const Ear a{record(
      shop,
      {.start = 50, .seconds = 60, .rate_ppm = 80, .snr_db = -8, .reverberation = 0.2, .direct = 3, .number = 1})};
  const Ear b{record(shop, {.start = 5, .seconds = 130, .snr_db = -8, .reverberation = 0.2, .direct = 3, .number = 2}),
              ClipTime{from_seconds(0.02)}};
  const std::vector<double> places = windows_to_look_for(a.hearable, 12, all_of(a));
  REQUIRE(places.size() >= 6);
  CloseSearch search;
  const auto votes = search.search(a.hearable, b.hearable, all_of(b), places, 4, {});
  REQUIRE(votes.size() == places.size());
  int right = 0;
  for (std::size_t i = 0; i < votes.size(); ++i) {
    if (votes[i].empty() || votes[i][0].z < 8) continue;
    // Clip a's second t is session second 50 + t (1 + 80 ppm), b's clip zero is session second 5 less its origin.
    const double truth = 45 + 80e-6 * places[i] + 0.02;
    CHECK(std::abs(votes[i][0].lag - truth) < 0.001);
    ++right;
  }
  CHECK(right >= 3);
}

TEST_CASE("only a part of the other clip is searched where only that is asked") {
  const Shop shop = make_shop({.number = 65, .seconds = 200, .every = 1});
  const Ear a{record(shop, {.start = 50, .seconds = 20, .number = 1})};
  const Ear b{record(shop, {.start = 0, .seconds = 200, .number = 2})};
  CloseSearch search;
  const double places[] = {5, 12};
  for (const auto& of_window : search.search(a.hearable, b.hearable, {40, 80}, places, 1, {})) {
    REQUIRE(of_window.size() == 1);
    CHECK(std::abs(of_window[0].lag - 50) < 0.001);
  }
  for (const auto& of_window : search.search(a.hearable, b.hearable, {90, 150}, places, 3, {})) {
    for (const Vote& vote : of_window) {
      CHECK(vote.at + vote.lag >= 89);
      CHECK(vote.at + vote.lag <= 151);
    }
  }
}

TEST_CASE("near a line each window is looked for at the line's own lags alone") {
  const Shop shop = make_shop({.number = 65, .seconds = 200, .every = 1});
  const Ear a{record(shop, {.start = 50, .seconds = 20, .number = 1})};
  const Ear b{record(shop, {.start = 0, .seconds = 200, .number = 2})};
  CloseSearch search;
  const double places[] = {5, 12};
  for (const auto& of_window : search.search_near(a.hearable, b.hearable, {{0, 47, 0}, 5, all_of(b)}, places, 1, {})) {
    REQUIRE(of_window.size() == 1);
    CHECK(std::abs(of_window[0].lag - 50) < 0.001);
  }
  for (const auto& of_window : search.search_near(a.hearable, b.hearable, {{0, 47, 0}, 2, all_of(b)}, places, 3, {})) {
    REQUIRE_FALSE(of_window.empty());
    for (const Vote& vote : of_window) CHECK(std::abs(vote.lag - 47) < 3.1);  // half a window may hang over
  }
  // What the other clip cannot hold any more is not asked for.
  const auto beyond = search.search_near(a.hearable, b.hearable, {{0, 50, 0}, 2, {0, 56}}, places, 1, {});
  CHECK(beyond.size() == 2);
  CHECK(beyond[1].empty());
}

TEST_CASE("windows to look for are the loudest of the stretch asked for, not of the whole clip") {
  const Shop shop = make_shop({.number = 66, .seconds = 60, .every = 1});
  std::vector<float> samples = record(shop, {.start = 0, .seconds = 60, .number = 1});
  // Blows stand out least where noise is added.
  const std::vector<float> wind = noise(20, 67, 0.5);
  for (std::size_t i = 0; i < wind.size(); ++i) samples[i + std::size_t{20} * sample_rate_hz] += wind[i];
  const Ear a{std::move(samples)};
  for (const double place : windows_to_look_for(a.hearable, 4, all_of(a))) CHECK((place < 20 || place > 40));
  const std::vector<double> places = windows_to_look_for(a.hearable, 4, {22, 38});
  CHECK(places.size() == 4);
  for (const double place : places) CHECK((place >= 22 && place <= 38));
}

TEST_CASE("near a line windows that are looked for together are found where each is found alone, and nowhere else") {
  const Shop shop = make_shop({.number = 68, .seconds = 200, .every = 1});
  const Ear a{record(shop, {.start = 20, .seconds = 150, .number = 1})};
  const Ear b{record(shop, {.start = 5, .seconds = 190, .number = 2})};
  const CloseSearch::Near near{{0, 15, 0}, 9, all_of(b)};
  const std::vector<double> places = windows_to_look_for(a.hearable, 10, all_of(a));
  REQUIRE(places.size() == 10);
  CloseSearch search;
  const auto together = search.search_near(a.hearable, b.hearable, near, places, 3, {});
  REQUIRE(together.size() == places.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto alone = search.search_near(a.hearable, b.hearable, near, std::span{&places[i], 1}, 3, {});
    REQUIRE(!alone[0].empty());
    REQUIRE(!together[i].empty());
    CHECK(std::abs(together[i][0].lag - alone[0][0].lag) < 0.0001);
    CHECK(std::abs(together[i][0].lag - 15) < 0.001);
    for (const Vote& vote : together[i]) CHECK(std::abs(vote.lag - 15) <= 9 + 0.001);
  }
}

TEST_CASE("a window that hangs over either end of the other clip is found by its half") {
  const Shop shop = make_shop({.number = 62, .seconds = 60, .every = 1});
  const Ear a{record(shop, {.start = 10, .seconds = 30, .number = 1})};
  const Ear b{record(shop, {.start = 20, .seconds = 30, .number = 2})};
  CloseSearch search;
  const double places[] = {10.6, 15};
  const auto votes = search.search(a.hearable, b.hearable, all_of(b), places, 1, {});
  for (const auto& of_window : votes) {
    REQUIRE(of_window.size() == 1);
    CHECK(std::abs(of_window[0].lag + 10) < 0.001);
  }
}

TEST_CASE("what is not there stands out nowhere, and silence has no votes") {
  const Shop one = make_shop({.number = 63, .seconds = 70, .every = 2}),
             other = make_shop({.number = 64, .seconds = 70, .every = 2});
  const Ear a{record(one, {.seconds = 60, .snr_db = 0, .number = 1})};
  const Ear b{record(other, {.seconds = 60, .snr_db = 0, .number = 2})};
  const Ear silent{std::vector<float>(60 * sample_rate_hz)};
  const std::vector<double> places = windows_to_look_for(a.hearable, 8, all_of(a));
  CloseSearch search;
  for (const auto& of_window : search.search(a.hearable, b.hearable, all_of(b), places, 3, {})) {
    for (const Vote& vote : of_window) CHECK(vote.z < 25);
    for (std::size_t i = 1; i < of_window.size(); ++i) CHECK(of_window[i].z <= of_window[i - 1].z);
  }
  for (const auto& of_window : search.search(a.hearable, silent.hearable, all_of(silent), places, 3, {}))
    CHECK(of_window.empty());
  const double somewhere[] = {20};
  CHECK(search.search(silent.hearable, a.hearable, all_of(a), somewhere, 3, {}).front().empty());
  CHECK(search.search(a.hearable, b.hearable, all_of(b), {}, 3, {}).empty());
}

TEST_CASE("what goes on without onsets stands out more as it is than by its onsets") {
  constexpr double seconds = 40, from = 20, to = 30;
  const std::vector<float> sound = noise(seconds, 71, 0.05);
  const auto heard = [&](double begin, double end, std::uint64_t number) {
    std::vector<float> samples = noise(end - begin, number, 0.1);
    const auto first = static_cast<std::size_t>(begin * sample_rate_hz);
    for (std::size_t i = 0; i < samples.size(); ++i) samples[i] += sound[first + i];
    return samples;
  };
  const Ear a{heard(from, to, 72)}, b{heard(0, seconds, 73)};
  const double places[] = {2.5, 6.5};
  CloseSearch search;
  const auto votes = [&](CloseSearch::Sound as) {
    return search.search(a.hearable, b.hearable, all_of(b), places, 3, {}, as);
  };
  const auto as_it_is = votes(CloseSearch::Sound::as_it_is), onsets = votes(CloseSearch::Sound::onsets);
  for (std::size_t i = 0; i < as_it_is.size(); ++i) {
    REQUIRE_FALSE(as_it_is[i].empty());
    CHECK(std::abs(as_it_is[i][0].lag - from) < 0.001);
    const double by_onsets = onsets[i].empty() ? 0 : onsets[i][0].z;
    CHECK(as_it_is[i][0].z > 1.2 * by_onsets);
  }
}
