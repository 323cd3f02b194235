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
  std::array<std::int64_t, 4> set_by{};
  std::optional<int> grip_uin{};
};

int clamped(std::int64_t count) {
  return static_cast<int>(std::clamp<std::int64_t>(count, 0, std::numeric_limits<int>::max()));
}

FastenerBalance balance_of(TaskId task, const std::string& callout, const Sums& sum) {
  FastenerBalance row{task, callout, clamped(sum.planned), clamped(sum.set), clamped(sum.drilled), {}, sum.grip_uin};
  std::transform(sum.set_by.begin(), sum.set_by.end(), row.set_by.begin(), clamped);
  return row;
}

void add(Sums& into, const FastenerBalance& row) {
  into.planned += row.planned;
  into.set += row.set;
  into.drilled += row.drilled;
  for (std::size_t i = 0; i < row.set_by.size(); ++i) into.set_by[i] += row.set_by[i];
}

int above_zero(std::int64_t count) { return clamped(std::max<std::int64_t>(count, 0)); }

}  // namespace

int FastenerBalance::left() const { return above_zero(std::int64_t{planned} - (std::int64_t{set} - drilled)); }
int FastenerBalance::over() const { return above_zero(std::int64_t{set} - drilled - planned); }

std::vector<FastenerBalance> balance(const Register& known, const std::vector<Span>& spans) {
  std::map<std::pair<TaskId, std::string>, Sums> sums;
  for (const PlannedFastener& line : known.planned) {
    Sums& sum = sums[{known.meant(line.task), line.callout}];
    sum.planned += line.count;
    if (!sum.grip_uin) sum.grip_uin = line.grip_uin;
  }
  for (const Span& span : spans) {
    if (!span.task) continue;
    for (const FastenerLine& line : span.fasteners) {
      Sums& sum = sums[{known.meant(*span.task), line.callout}];
      sum.set += line.set;
      sum.drilled += line.drilled;
      sum.set_by[static_cast<std::size_t>(line.method)] += line.set;
    }
  }
  std::vector<FastenerBalance> rows;
  for (const auto& [key, sum] : sums) rows.push_back(balance_of(key.first, key.second, sum));
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

std::vector<LocationBalance> balance_by_location(const Register& known, const std::vector<Span>& spans) {
  using Key = std::tuple<std::string, std::optional<AssemblyId>, std::string>;
  std::map<Key, Sums> sums;
  for (const FastenerBalance& row : balance(known, spans)) {
    const Task* task = known.task(row.task);
    std::optional<AssemblyId> assembly = task == nullptr ? std::nullopt : task->assembly;
    if (assembly) assembly = known.meant(*assembly);
    const auto [place, first] = sums.try_emplace({known.assembly_path(assembly), assembly, row.callout});
    Sums& sum = place->second;
    if (first) sum.grip_uin = row.grip_uin;
    if (sum.grip_uin != row.grip_uin) sum.grip_uin.reset();
    add(sum, row);
  }
  std::vector<LocationBalance> rows;
  for (const auto& [key, sum] : sums) rows.push_back({std::get<1>(key), balance_of({}, std::get<2>(key), sum)});
  return rows;
}

std::optional<Method> parse_method(std::string_view text) {
  for (const Method method : {Method::driven, Method::squeezed, Method::pulled, Method::other}) {
    if (text == to_text(method)) return method;
  }
  return std::nullopt;
}

}  // namespace jigtime::journal
