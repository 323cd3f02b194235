#include "signal/statistics.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <stdexcept>

#include "signal/python_check.h"

namespace {

using namespace jigtime::signal;

TEST_CASE("the median of an even count is the mean of the two in the middle") {
  CHECK(median({4, 1, 3, 2}) == doctest::Approx(2.5));
  CHECK(median({5, 1, 3}) == doctest::Approx(3));
}

TEST_CASE("quantiles go from the smallest to the largest value") {
  CHECK(quantile({3, 1, 2}, 0) == doctest::Approx(1));
  CHECK(quantile({3, 1, 2}, 1) == doctest::Approx(3));
  CHECK(quantile({3, 1, 2}, 7) == doctest::Approx(3));
}

TEST_CASE("a third of wild values does not move the middle nor blow up the spread") {
  std::mt19937 random{1};
  std::normal_distribution<double> normal{10, 2};
  std::vector<double> values;
  for (int i = 0; i < 3000; ++i) values.push_back(i % 3 == 0 ? (i % 2 == 0 ? 1e6 : -1e6) : normal(random));
  const Spread spread = robust_spread(values);
  CHECK(spread.middle == doctest::Approx(10).epsilon(0.05));
  CHECK(spread.sigma < 5);
}

TEST_CASE("the spread of normal values is their standard deviation") {
  std::mt19937 random{2};
  std::normal_distribution<double> normal{0, 3};
  std::vector<double> values;
  for (int i = 0; i < 20000; ++i) values.push_back(normal(random));
  CHECK(robust_spread(values).sigma == doctest::Approx(3).epsilon(0.03));
}

TEST_CASE("a weighted median follows the weight, not the count") {
  CHECK(weighted_median({{1, 1}, {2, 1}, {3, 1}, {100, 10}}) == doctest::Approx(100));
  CHECK(weighted_median({{3, 1}, {1, 1}, {2, 1}}) == doctest::Approx(2));
}

TEST_CASE("no values and no weight are refused") {
  CHECK_THROWS_AS(median({}), std::logic_error);
  CHECK_THROWS_AS(quantile({}, 0.5), std::logic_error);
  CHECK_THROWS_AS(weighted_median({{1, 0}}), std::logic_error);
}

TEST_CASE("the binomial tail agrees with scipy.stats.binom") {
  jigtime::test::PythonCheck python;
  const auto reference = python.run(
      "from scipy.stats import binom\n"
      "result = [binom.logsf(k - 1, n, p) / np.log(10) for k, n, p in [(1, 5, 0.1), (4, 5, 0.07), (20, 100, 0.05)]]");
  REQUIRE(reference.size() == 3);
  CHECK(log10_binomial_tail(1, 5, 0.1) == doctest::Approx(reference[0]));
  CHECK(log10_binomial_tail(4, 5, 0.07) == doctest::Approx(reference[1]));
  CHECK(log10_binomial_tail(20, 100, 0.05) == doctest::Approx(reference[2]));
}

TEST_CASE("no hits prove nothing, and more hits than trials are impossible") {
  CHECK(log10_binomial_tail(0, 10, 0.1) == 0);
  CHECK(log10_binomial_tail(11, 10, 0.1) == -INFINITY);
  CHECK(log10_binomial_tail(3, 10, 1.0) == 0);
}

}  // namespace
