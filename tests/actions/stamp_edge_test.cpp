#include "actions/stamp_edge.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

constexpr Length noon = Length{1'773'486'000s};  // 2026-03-14T11:00:00Z

Footage file(Length stamp, Length length) {
  Footage footage;
  footage.path = "/card/clip.mp4";
  footage.info.container = "mp4";
  footage.info.length = length;
  footage.info.clocks = {{ClockSource::container, ClockKind::utc, ClockEdge::begin, stamp, 1s, ""}};
  return footage;
}

Footage with(Footage footage, ClockSource source, Length since) {
  const bool written = source == ClockSource::file_time;
  footage.info.clocks.push_back({source, written ? ClockKind::utc : ClockKind::local,
                                 written ? ClockEdge::end : ClockEdge::begin, since, written ? 2s : 1s, ""});
  return footage;
}

bool ends(std::vector<Footage> footage) {
  settle_edges(footage);
  int count = 0;
  for (const Footage& f : footage) count += f.info.clocks.front().edge == ClockEdge::end ? 1 : 0;
  CHECK((count == 0 || count == static_cast<int>(footage.size())));
  return count > 0;
}

}  // namespace

TEST_CASE("names that tell the beginning, in any zone, show that the stamps are ends") {
  const auto named = ClockSource::name;
  const Length zone = 5h + 45min;
  CHECK(ends(
      {with(file(noon + 50s, 50s), named, noon + zone), with(file(noon + 400s, 110s), named, noon + 291s + zone)}));
  CHECK_FALSE(
      ends({with(file(noon, 50s), named, noon + zone), with(file(noon + 400s, 110s), named, noon + 400s + zone)}));
  // One file alone is no habit.
  CHECK_FALSE(ends({with(file(noon + 50s, 50s), named, noon + zone)}));
  // A length of a quarter of an hour looks like a zone.
  CHECK_FALSE(ends({with(file(noon + 900s, 900s), named, noon), with(file(noon + 4000s, 901s), named, noon + 3100s)}));
}

TEST_CASE("files that would overlap as beginnings are stamped at their ends") {
  // 600, 90 and 300 s long, a minute or so between them.
  CHECK(ends({file(noon + 600s, 600s), file(noon + 750s, 90s), file(noon + 1110s, 300s), file(noon + 1200s, 30s)}));
  CHECK_FALSE(ends({file(noon, 600s), file(noon + 660s, 90s), file(noon + 810s, 300s), file(noon + 1170s, 30s)}));
}

TEST_CASE("two devices in one folder, and a clock that starts anew, overlap either way and tell nothing") {
  std::vector<Footage> two;
  for (int i = 0; i < 10; ++i) {
    two.push_back(file(noon + i * 700s, 600s + i * 7s));
    two.push_back(file(noon + 100s + i * 650s, 590s - i * 11s));
  }
  CHECK_FALSE(ends(two));
  CHECK_FALSE(ends({file(noon + 10s, 1200s), file(noon + 14s, 2s), file(noon + 15s, 3s), file(noon + 21s, 4s)}));
  CHECK_FALSE(ends({file(noon + 10s, 1200s), file(noon + 12s, 900s), file(noon + 11s, 1100s)}));
}

TEST_CASE("the time of the last write speaks for beginnings, and never for ends alone") {
  const auto written = ClockSource::file_time;
  CHECK_FALSE(ends({with(file(noon, 600s), written, noon + 1s), with(file(noon + 900s, 90s), written, noon + 901s)}));
  // Against two words for ends.
  std::vector<Footage> footage{file(noon + 600s, 600s), file(noon + 750s, 90s), file(noon + 1110s, 300s),
                               file(noon + 1200s, 30s)};
  footage[1] = with(footage[1], written, footage[1].info.clocks.front().since_epoch + 91s);
  CHECK_FALSE(ends(footage));
}

TEST_CASE("files of one form speak for each other only") {
  std::vector<Footage> footage{with(file(noon + 50s, 50s), ClockSource::name, noon),
                               with(file(noon + 400s, 110s), ClockSource::name, noon + 290s), file(noon, 70s)};
  footage.back().info.container = "mov";
  settle_edges(footage);
  CHECK(footage[0].info.clocks.front().edge == ClockEdge::end);
  CHECK(footage[1].info.clocks.front().edge == ClockEdge::end);
  CHECK(footage[2].info.clocks.front().edge == ClockEdge::begin);
}

TEST_CASE("footage without stamps is left as it is") {
  std::vector<Footage> footage{file(noon, 50s), file(noon, 60s)};
  footage[0].info.clocks.clear();
  footage[1].info.clocks.front().source = ClockSource::name;
  settle_edges(footage);
  CHECK(footage[1].info.clocks.front().edge == ClockEdge::begin);
}
