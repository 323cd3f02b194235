#include "journal/fasteners.h"

#include <doctest/doctest.h>

#include <limits>

#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

Span span_with(TaskId task, std::vector<FastenerLine> lines) {
  Span span;
  span.task = task;
  span.end = at(1min);
  span.fasteners = std::move(lines);
  return span;
}

}  // namespace

TEST_CASE("what is set is counted against the plan, drilled ones taken off") {
  const auto rows = balance(sample_register(), {span_with({1}, {{"MS20426AD3-4.5", Method::driven, 31, 2}})});
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].planned == 40);
  CHECK(rows[0].set == 31);
  CHECK(rows[0].drilled == 2);
  CHECK(rows[0].left() == 11);
  CHECK(rows[0].over() == 0);
}

TEST_CASE("more set than planned is over, not negative left") {
  const auto rows = balance(sample_register(), {span_with({1}, {{"MS20426AD3-4.5", Method::driven, 45, 1}})});
  CHECK(rows.at(0).left() == 0);
  CHECK(rows.at(0).over() == 4);
}

TEST_CASE("spans and methods of the same call-out add up") {
  const auto rows =
      balance(sample_register(),
              {span_with({1}, {{"MS20426AD3-4.5", Method::driven, 10, 0}, {"MS20426AD3-4.5", Method::squeezed, 5, 1}}),
               span_with({1}, {{"MS20426AD3-4.5", Method::driven, 3, 0}})});
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].set == 18);
  CHECK(rows[0].drilled == 1);
}

TEST_CASE("a call-out that was not planned has its own row with nothing planned") {
  const auto rows = balance(sample_register(), {span_with({2}, {{"MS20470AD4-5", Method::driven, 4, 0}})});
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].callout == "MS20470AD4-5");
  CHECK(rows[0].planned == 0);
  CHECK(rows[0].over() == 4);
  CHECK(rows[1].set == 0);
  CHECK(rows[1].left() == 40);
}

TEST_CASE("the same call-out in another task is another row") {
  const auto rows = balance(sample_register(), {span_with({2}, {{"MS20426AD3-4.5", Method::driven, 7, 0}})});
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].task == TaskId{2});
  CHECK(rows[1].task == TaskId{1});
}

TEST_CASE("rows are ordered by the task's title, then by call-out") {
  Register known = sample_register();
  known.planned = {{{1}, {1}, "MS20470AD4-5", 1}, {{2}, {2}, "MS20470AD4-5", 1}, {{3}, {1}, "MS20426AD3-4.5", 1}};
  const auto rows = balance(known, {});
  REQUIRE(rows.size() == 3);
  CHECK(rows[0].task == TaskId{2});
  CHECK(rows[1].callout == "MS20426AD3-4.5");
  CHECK(rows[2].callout == "MS20470AD4-5");
}

TEST_CASE("a span without a task sets nothing") {
  Span span = span_with({1}, {{"MS20426AD3-4.5", Method::driven, 7, 0}});
  span.task = std::nullopt;
  CHECK(balance(sample_register(), {span}).at(0).set == 0);
}

TEST_CASE("sums beyond an int stop at its end") {
  constexpr int most = std::numeric_limits<int>::max();
  const auto rows = balance(
      sample_register(),
      {span_with({1}, {{"MS20426AD3-4.5", Method::driven, most, 0}, {"MS20426AD3-4.5", Method::driven, most, 0}})});
  CHECK(rows.at(0).set == most);
  CHECK(rows.at(0).over() == most - 40);
}

TEST_CASE("what was set is kept apart by method") {
  const auto rows = balance(
      sample_register(),
      {span_with({1}, {{"MS20426AD3-4.5", Method::driven, 10, 0}, {"MS20426AD3-4.5", Method::squeezed, 5, 1}})});
  CHECK(rows.at(0).set_by == std::array<int, 4>{10, 5, 0, 0});
}

TEST_CASE("a task that was merged counts as the one it was merged into") {
  Register known = sample_register();
  for (Task& task : known.tasks) {
    if (task.id == TaskId{2}) task.shelf.merged = TaskId{1};
  }
  const auto rows = balance(known, {span_with({2}, {{"MS20426AD3-4.5", Method::driven, 7, 0}})});
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].task == TaskId{1});
  CHECK(rows[0].set == 7);
}

TEST_CASE("by location the rows of an assembly's tasks add up and those of none stand apart") {
  Register known = sample_register();
  const std::optional<AssemblyId> assembly = known.task(TaskId{1})->assembly;
  for (Task& task : known.tasks) task.assembly = assembly;
  known.tasks.push_back({{77}, "Loose", std::nullopt, "", ""});
  const auto rows = balance_by_location(known, {span_with({1}, {{"MS20426AD3-4.5", Method::driven, 7, 0}}),
                                                span_with({2}, {{"MS20426AD3-4.5", Method::driven, 5, 1}}),
                                                span_with({77}, {{"MS20426AD3-4.5", Method::driven, 1, 0}})});
  REQUIRE(rows.size() == 2);
  CHECK_FALSE(rows[0].assembly);
  CHECK(rows[0].balance.set == 1);
  CHECK(rows[1].assembly == assembly);
  CHECK(rows[1].balance.set == 12);
  CHECK(rows[1].balance.left() == 29);
}

TEST_CASE("every method's name reads back as itself, and no other word does") {
  for (const Method method : {Method::driven, Method::squeezed, Method::pulled, Method::other})
    CHECK(parse_method(to_text(method)) == method);
  for (const char* text : {"", "Driven", "glued", "driven "}) CHECK_FALSE(parse_method(text));
}

TEST_CASE("a balance carries the plan's grip; tasks of one location that differ have none together") {
  Register known = sample_register();
  known.planned = {{{1}, {1}, "MS20426AD3-4", 40, 64'000}, {{2}, {2}, "MS20426AD3-4", 5, 64'000}};
  known.tasks[1].assembly = known.tasks[0].assembly;
  REQUIRE(balance(known, {}).size() == 2);
  CHECK(balance(known, {})[0].grip_uin == 64'000);
  REQUIRE(balance_by_location(known, {}).size() == 1);
  CHECK(balance_by_location(known, {})[0].balance.grip_uin == 64'000);
  known.planned[1].grip_uin = 80'000;
  CHECK(!balance_by_location(known, {})[0].balance.grip_uin);
  known.planned[1].grip_uin.reset();
  CHECK(!balance_by_location(known, {})[0].balance.grip_uin);
  CHECK(!balance(known, {})[0].grip_uin == true);
}
