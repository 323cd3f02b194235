#include "sync/schedule.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using namespace jigtime::sync;

namespace {

Candidate candidate(double lag, double score) {
  Candidate candidate;
  candidate.line = {0, lag, 0};
  candidate.score = score;
  return candidate;
}

PairMatch proven(int a, int b, double lag, double proof) {
  PairMatch match;
  match.a = a;
  match.b = b;
  Segment segment;
  segment.fit.line = {0, lag, 0};
  segment.proof = proof;
  segment.observations.push_back({0, lag, 1});
  match.segments.push_back(segment);
  return match;
}

/// Each of another camera.
std::vector<Schedule::Clip> long_for(const std::vector<double>& seconds) {
  std::vector<Schedule::Clip> clips;
  for (const double one : seconds) clips.push_back({one, static_cast<int>(clips.size())});
  return clips;
}

bool asks_for(const std::vector<Job>& jobs, int prospect) {
  return std::any_of(jobs.begin(), jobs.end(), [&](const Job& job) { return job.prospect == prospect; });
}

/// Two clips that both meet two long ones, which is asked first; clip 1 begins `later` seconds after clip 0.
std::vector<Prospect> two_and_two(double later, const std::vector<Candidate>& last) {
  return {{0, 2, {candidate(0, 40)}},
          {0, 3, {candidate(10, 39)}},
          {1, 2, {candidate(later, 38)}},
          {1, 3, {candidate(later + 10, 37)}},
          {0, 1, last}};
}

/// What is asked of clips 0 and 1 once it is known how they lie to the long ones.
std::vector<Job> asked_then(const std::vector<Prospect>& prospects, double later, double seconds) {
  Schedule schedule{long_for({seconds, seconds, 900, 900}), prospects};
  const auto first = schedule.next();
  CHECK(first.size() == 4);
  CHECK(!asks_for(first, 4));
  schedule.learn(proven(0, 2, 0, 30));
  schedule.learn(proven(0, 3, 10, 30));
  schedule.learn(proven(1, 2, later, 30));
  schedule.learn(proven(1, 3, later + 10, 30));
  auto then = schedule.next();
  CHECK(schedule.next().empty());
  CHECK(schedule.passed_over() == (then.empty() ? 1 : 0));
  return then;
}

}  // namespace

TEST_CASE("clips that cannot overlap after what is proven are passed over") {
  CHECK(asked_then(two_and_two(200, {candidate(12, 6)}), 200, 100).empty());
}

TEST_CASE("a candidate that stands out is compared even where the clips cannot overlap") {
  const auto jobs = asked_then(two_and_two(200, {candidate(12, 20), candidate(33, 6)}), 200, 100);
  REQUIRE(jobs.size() == 1);
  CHECK(jobs[0].candidates == std::vector<int>{0});
}

TEST_CASE("two clips known to lie together are compared there, and where a candidate stands out") {
  const auto there = asked_then(two_and_two(50, {candidate(80, 8), candidate(-50.2, 7), candidate(45, 6)}), 50, 300);
  REQUIRE(there.size() == 1);
  CHECK(there[0].candidates == std::vector<int>{1});
  const auto both = asked_then(two_and_two(50, {candidate(80, 16), candidate(-50.2, 7), candidate(45, 6)}), 50, 300);
  REQUIRE(both.size() == 1);
  CHECK(both[0].candidates == std::vector<int>{0, 1});
}

TEST_CASE("two clips known to lie together are compared everywhere when no candidate lies there") {
  const auto jobs = asked_then(two_and_two(50, {candidate(80, 8), candidate(45, 6)}), 50, 300);
  REQUIRE(jobs.size() == 1);
  CHECK(jobs[0].candidates == std::vector<int>{0, 1});
}

TEST_CASE("where a clip of the same camera is proven to lie no other is looked for, unless it stands out far") {
  // The first camera's clip 0 ran with clip 1 of the second; clip 2 is of the second, too.
  for (const double lag : {0.0, -30.0, -95.0, -300.0, 70.0}) {
    CAPTURE(lag);
    const bool room = lag == -95 || lag == -300;
    for (const double score : {12.0, 20.0}) {
      const std::vector<Prospect> prospects{{0, 2, {candidate(lag, score)}}};
      Schedule schedule{{{100, 0}, {100, 1}, {100, 1}}, prospects};
      schedule.learn(proven(0, 1, 0, 30));
      const bool asked = !schedule.next().empty();
      CHECK(asked == (room || score == 20));
    }
  }
}

TEST_CASE("two clips that others prove to run together are expected at the lag between them, and no others") {
  const std::vector<Prospect> prospects = two_and_two(50, {});
  Schedule schedule{long_for({300, 300, 900, 900}), prospects};
  CHECK(!schedule.expected_lag(0, 1));
  schedule.learn(proven(0, 2, 0, 30));
  schedule.learn(proven(1, 2, 50, 30));
  const auto lag = schedule.expected_lag(0, 1);
  REQUIRE(lag.has_value());
  CHECK(*lag == doctest::Approx(-50));
  CHECK(schedule.expected_lag(1, 0) == doctest::Approx(50));
  CHECK(!schedule.expected_lag(0, 3));
  Schedule apart{long_for({60, 60, 900, 900}),
                 prospects};  // one ends ten seconds after the other began, give or take some
  apart.learn(proven(0, 2, 0, 30));
  apart.learn(proven(1, 2, 50, 30));
  CHECK(!apart.expected_lag(0, 1));
}

TEST_CASE("along a chain of clips what may be off adds up, and does not double") {
  // Each clip overlaps the next by 50 s; every second one is a long way from the first.
  constexpr int clips = 20;
  const std::vector<Prospect> none;
  Schedule schedule{long_for(std::vector<double>(clips, 100)), none};
  // Learned in an order in which groups grow from both ends and then meet.
  for (int i = 0; i + 1 < clips; i += 2) schedule.learn(proven(i, i + 1, -50, 30));
  for (int i = 1; i + 1 < clips; i += 2) schedule.learn(proven(i + 1, i, 50, 30));
  for (int i = 0; i + 1 < clips; ++i) {
    const auto lag = schedule.expected_lag(i, i + 1);
    REQUIRE(lag.has_value());
    CHECK(*lag == doctest::Approx(-50));
  }
  CHECK(!schedule.expected_lag(0, 2));
}

TEST_CASE("what is proven weakly teaches nothing") {
  std::vector<Prospect> prospects;
  for (int i = 1; i < 6; ++i) prospects.push_back({0, i, {candidate(-10.0 * i, 20)}});
  Schedule schedule{long_for(std::vector<double>(6, 100)), prospects};
  std::vector<int> asked;
  for (auto jobs = schedule.next(); !jobs.empty(); jobs = schedule.next()) {
    for (const Job& job : jobs) {
      asked.push_back(job.prospect);
      schedule.learn(proven(0, job.prospect + 1, 5000, 8));
    }
  }
  CHECK(asked.size() == 5);
}

TEST_CASE("every pair comes up once or is passed over, and the likeliest first") {
  std::vector<Prospect> prospects;
  for (int i = 0; i < 12; ++i) {
    for (int j = i + 1; j < 12; ++j) prospects.push_back({i, j, {candidate(i - j, 5.0 + (i * 7 + j * 3) % 11)}});
  }
  prospects.push_back({0, 11, {candidate(3, 2)}});  // nothing to go by
  Schedule schedule{long_for(std::vector<double>(12, 50)), prospects};
  std::vector<int> times(prospects.size(), 0);
  double before = 1e9;
  for (auto jobs = schedule.next(); !jobs.empty(); jobs = schedule.next()) {
    double best = 0;
    for (const Job& job : jobs) {
      ++times[static_cast<std::size_t>(job.prospect)];
      best = std::max(best, prospects[static_cast<std::size_t>(job.prospect)].candidates.front().score);
    }
    CHECK(best <= before);
    before = best;
  }
  CHECK(std::all_of(times.begin(), times.end() - 1, [](int n) { return n == 1; }));
  CHECK(times.back() == 0);
  CHECK(schedule.passed_over() == 1);
}

TEST_CASE("no pairs ask for nothing") {
  const std::vector<Prospect> none;
  Schedule schedule{{}, none};
  CHECK(schedule.next().empty());
}
