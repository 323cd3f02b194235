#include "base/result.h"

#include <doctest/doctest.h>

#include <memory>

using namespace jigtime;

TEST_CASE("a result holds either its value or its error") {
  const Result<int> good{7};
  CHECK(good.ok());
  CHECK(*good == 7);
  const Result<int> bad{Error{Code::invalid, "No."}};
  CHECK_FALSE(bad.ok());
  CHECK(bad.error().code() == Code::invalid);
}

TEST_CASE("asking a result for what it does not hold is a mistake of ours and throws") {
  const Result<int> good{7};
  const Result<int> bad{Error{Code::invalid, "No."}};
  CHECK_THROWS_AS(good.error(), std::logic_error);
  CHECK_THROWS_AS(bad.value(), std::logic_error);
  CHECK_THROWS_AS(Done{}.error(), std::logic_error);
}

TEST_CASE("each level puts what it attempted in front of the message") {
  const Error error = Error{Code::no_space, "The disk is full."}.during("writing b").during("exporting a");
  CHECK(error.message() == "exporting a: writing b: The disk is full.");
  CHECK(error.code() == Code::no_space);
}

TEST_CASE("a result carries values that can only be moved") {
  Result<std::unique_ptr<int>> made{std::make_unique<int>(3)};
  const std::unique_ptr<int> taken = *std::move(made);
  CHECK(*taken == 3);
}
