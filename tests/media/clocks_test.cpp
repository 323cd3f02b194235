#include "media/libav/clocks.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <string>

#include "media/civil.h"
#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

const Length morning = *media::since_1970({2026, 3, 14, 9, 30, 12});

std::vector<ClockReading> clocks(const std::filesystem::path& path) {
  const Result<media::MediaInfo> info = media::probe(path);
  REQUIRE(info);
  return info->clocks;
}

std::vector<ClockReading> from(const std::vector<ClockReading>& all, ClockSource source) {
  std::vector<ClockReading> found;
  for (const ClockReading& reading : all) {
    if (reading.source == source) found.push_back(reading);
  }
  return found;
}

void set_file_time(const std::filesystem::path& path, timespec time) {
  const timespec both[2] = {time, time};
  REQUIRE(utimensat(AT_FDCWD, path.c_str(), both, 0) == 0);
}

}  // namespace

TEST_CASE("timecode, container, name and file time are told, most trusted first") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "mov";
  plan.creation_time = WallTime{morning};
  plan.timecode = "09:30:10:15";
  make_clip(folder / "20260314_103012.mov", plan);
  const std::vector<ClockReading> all = clocks(folder / "20260314_103012.mov");
  REQUIRE(all.size() == 4);
  CHECK(all[0].source == ClockSource::timecode);
  CHECK(all[0].kind == ClockKind::time_of_day);
  CHECK(all[0].since_epoch == 9h + 30min + 10s + 500ms);
  CHECK(all[0].text == "09:30:10:15");
  CHECK(all[1].source == ClockSource::container);
  CHECK(all[1].kind == ClockKind::utc);
  CHECK(all[1].since_epoch == morning);
  CHECK(all[1].resolution == 1s);
  CHECK(all[2].source == ClockSource::name);
  CHECK(all[2].since_epoch == morning + 1h);
  CHECK(all[3].source == ClockSource::file_time);
  CHECK(all[3].edge == ClockEdge::end);
}

TEST_CASE("drop-frame timecode is counted by the true rate") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "mov";
  plan.rate_num = 30000;
  plan.rate_den = 1001;
  plan.timecode = "10:03:00;05";
  make_clip(folder / "a", plan);
  const auto found = from(clocks(folder / "a"), ClockSource::timecode);
  REQUIRE(found.size() == 1);
  CHECK(found[0].text == "10:03:00;05");
  // SMPTE ST 12-1: frame 1084319 at 30000/1001.
  CHECK(found[0].since_epoch == Length{scaled(1084319, 1001'000'000'000, 30000)});
}

TEST_CASE("timecode outside a track is found, one of all zeros means none") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "matroska";
  plan.timecode = "23:59:59:29";
  make_clip(folder / "a", plan);
  CHECK(from(clocks(folder / "a"), ClockSource::timecode).size() == 1);
  plan.container = "mov";
  plan.timecode = "00:00:00:00";
  make_clip(folder / "b", plan);
  CHECK(from(clocks(folder / "b"), ClockSource::timecode).empty());
}

TEST_CASE("a creation time that was never set gives no reading") {
  const TempFolder folder;
  ClipPlan plan;
  make_clip(folder / "none.mp4", plan);
  CHECK(from(clocks(folder / "none.mp4"), ClockSource::container).empty());
  // The field counts from 1904 (QuickTime file format); 1970 and 1904 are what devices write that do not know.
  plan.creation_time = WallTime{};
  make_clip(folder / "1970.mp4", plan);
  CHECK(from(clocks(folder / "1970.mp4"), ClockSource::container).empty());
}

TEST_CASE("the container's field is read from 1904 on") {
  const TempFolder folder;
  ClipPlan plan;
  // 2026-11-25T06:00:00Z is 3,878,431,200 s (0xE72C29E0) after 1904 and 1,795,586,400 s after 1970 (computed).
  plan.creation_time = WallTime{1795586400s};
  make_clip(folder / "a", plan);
  const std::vector<std::uint8_t> bytes = read_bytes(folder / "a");
  const std::vector<std::uint8_t> head{'m', 'v', 'h', 'd', 0, 0, 0, 0, 0xE7, 0x2C, 0x29, 0xE0};
  CHECK(std::search(bytes.begin(), bytes.end(), head.begin(), head.end()) != bytes.end());
  CHECK(from(clocks(folder / "a"), ClockSource::container).at(0).since_epoch == 1795586400s);
}

TEST_CASE("a date with its zone is exact and comes before the one that only says UTC") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  const auto dated = [&](const std::string& date, const std::string& name) {
    ffmpeg({"-i", (folder / "a").string(), "-c", "copy", "-metadata", "creation_time=2026-03-14T09:30:12Z", "-metadata",
            "date=" + date, (folder / name).string()});
    return from(clocks(folder / name), ClockSource::container);
  };
  const auto exact = dated("2026-03-14T09:30:12+0100", "exact.mp4");
  REQUIRE(exact.size() == 2);
  CHECK(exact[0].kind == ClockKind::utc);
  CHECK(exact[0].since_epoch == morning - 1h);
  CHECK(exact[1].since_epoch == morning);
  const auto local = dated("2026-03-14 10:30:12", "local.mp4");
  REQUIRE(local.size() == 2);
  CHECK(local[0].kind == ClockKind::utc);
  CHECK(local[1].kind == ClockKind::local);
  CHECK(local[1].since_epoch == morning + 1h);
  CHECK(dated("2026", "year.mp4").size() == 1);
}

TEST_CASE("a sound recorder's broadcast chunk is local time") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "wav";
  plan.picture_codec.clear();
  plan.sound_codec = "pcm_s16le";
  make_clip(folder / "a", plan);
  ffmpeg({"-i", (folder / "a").string(), "-c", "copy", "-write_bext", "1", "-metadata", "origination_date=2026-03-14",
          "-metadata", "origination_time=09:30:12", (folder / "b.wav").string()});
  const auto found = from(clocks(folder / "b.wav"), ClockSource::container);
  REQUIRE(found.size() == 1);
  CHECK(found[0].kind == ClockKind::local);
  CHECK(found[0].since_epoch == morning);
}

TEST_CASE("the file's own time is the end of the recording, as fine as its medium keeps it") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  const auto reading = [&](timespec time) {
    set_file_time(folder / "a", time);
    return from(clocks(folder / "a"), ClockSource::file_time).at(0);
  };
  const ClockReading fat = reading({1773480612, 0});
  CHECK(fat.since_epoch == 1773480612s);
  CHECK(fat.resolution == 2s);
  CHECK(fat.edge == ClockEdge::end);
  CHECK(fat.kind == ClockKind::utc);
  CHECK(fat.text == "2026-03-14T09:30:12Z");
  CHECK(reading({1773480613, 0}).resolution == 1s);
  CHECK(reading({1773480613, 500}).resolution == 10ms);
}
