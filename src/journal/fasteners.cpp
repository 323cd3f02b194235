#include "journal/fasteners.h"

#include <algorithm>
#include <limits>
#include <map>
#include <tuple>

namespace jigtime::journal {
namespace {

struct Sums {
  std::int64_t planned = 0;
  std::int64_t set = 0;
  std::int64_t drilled = 0;
};

int clamped(std::int64_t count) {
  return static_cast<int>(std::clamp<std::int64_t>(count, 0, std::numeric_limits<int>::max()));
}

int above_zero(std::int64_t count) { return clamped(std::max<std::int64_t>(count, 0)); }

}  // namespace

int FastenerBalance::left() const { return above_zero(std::int64_t{planned} - (std::int64_t{set} - drilled)); }
int FastenerBalance::over() const { return above_zero(std::int64_t{set} - drilled - planned); }

std::vector<FastenerBalance> balance(const Register& known, const std::vector<Span>& spans) {
  std::map<std::pair<TaskId, std::string>, Sums> sums;
  for (const PlannedFastener& line : known.planned) sums[{line.task, line.callout}].planned += line.count;
  for (const Span& span : spans) {
    if (!span.task) continue;
    for (const FastenerLine& line : span.fasteners) {
      Sums& sum = sums[{*span.task, line.callout}];
      sum.set += line.set;
      sum.drilled += line.drilled;
    }
  }
  std::vector<FastenerBalance> rows;
  for (const auto& [key, sum] : sums) {
    rows.push_back({key.first, key.second, clamped(sum.planned), clamped(sum.set), clamped(sum.drilled)});
  }
  const auto title = [&](TaskId id) {
    const Task* task = known.task(id);
    return task == nullptr ? std::string_view{} : std::string_view{task->title};
  };
  std::stable_sort(rows.begin(), rows.end(), [&](const FastenerBalance& a, const FastenerBalance& b) {
    return std::tuple{title(a.task), std::string_view{a.callout}} <
           std::tuple{title(b.task), std::string_view{b.callout}};
  });
  return rows;
}

std::optional<Method> parse_method(std::string_view text) {
  for (const Method method : {Method::driven, Method::squeezed, Method::pulled, Method::other}) {
    if (text == to_text(method)) return method;
  }
  return std::nullopt;
}

}  // namespace jigtime::journal
