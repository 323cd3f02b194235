#include "media/picture_reader.h"

#include <doctest/doctest.h>

#include <chrono>
#include <random>
#include <string>

#include "media/listening.h"
#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

double difference(const Picture& a, const Picture& b) {
  if (a.rgba.size() != b.rgba.size() || a.rgba.empty()) return 255;
  double sum = 0;
  for (std::size_t i = 0; i < a.rgba.size(); ++i) sum += std::abs(a.rgba[i] - b.rgba[i]);
  return sum / static_cast<double>(a.rgba.size());
}

/// Index of the picture on show at `t`.
std::size_t on_show(const Seen& seen, ClipTime t) {
  std::size_t index = 0;
  while (index + 1 < seen.times.size() && seen.times[index + 1] <= t) ++index;
  return index;
}

/// Checks at() and next() against the pictures read one by one.
void check_random_access(const std::filesystem::path& path) {
  const Seen seen = look(path);
  REQUIRE(seen.times.size() > 2);
  Result<media::PictureReader> reader = media::PictureReader::open(path);
  REQUIRE(reader);
  std::minstd_rand random{3};
  for (int i = 0; i < 25; ++i) {
    const auto limit = static_cast<unsigned long>((seen.times.back() + 500ms).time_since_epoch().count());
    const ClipTime t = i == 0 ? ClipTime{} : ClipTime{Length{static_cast<std::int64_t>((random() * 4UL) % limit)}};
    CAPTURE(to_seconds(t));
    const std::size_t due = on_show(seen, t);
    const Result<media::TimedPicture> shown = reader->at(t);
    REQUIRE(shown);
    CHECK(to_seconds(shown->at) == to_seconds(seen.times[due]));
    CHECK(difference(shown->picture, seen.pictures[due]) < 0.01);
    const Result<std::optional<media::TimedPicture>> next = reader->next();
    REQUIRE(next);
    CHECK(next->has_value() == (due + 1 < seen.times.size()));
    if (next->has_value()) CHECK(to_seconds((*next)->at) == to_seconds(seen.times[due + 1]));
  }
}

}  // namespace

TEST_CASE("the picture at a time is the one that reading from the start shows then") {
  const TempFolder folder;
  for (const auto& [container, codec] : {std::pair<std::string, std::string>{"mp4", "libx264"},
                                         {"mov", "libx264"},
                                         {"mpegts", "libx264"},
                                         {"matroska", "libx264"},
                                         {"avi", "libx264"},
                                         {"avi", "mjpeg"}}) {
    CAPTURE(container);
    CAPTURE(codec);
    ClipPlan plan;
    plan.container = container;
    plan.picture_codec = codec;
    plan.sound_codec = plan.container == "avi" ? "pcm_s16le" : "aac";
    plan.pictures = 150;
    plan.noise = true;
    make_clip(folder / "a", plan);
    check_random_access(folder / "a");
  }
}

TEST_CASE("open groups of pictures, varying rates and cut starts are shown exactly too") {
  const TempFolder folder;
  ClipPlan plan;
  plan.noise = true;
  plan.pictures = 150;
  make_clip(folder / "a", plan);
  const std::string a = (folder / "a").string();
  const auto shape = [&](std::vector<std::string> words, const std::string& name) {
    words.insert(words.begin(), {"-i", a});
    words.push_back((folder / name).string());
    ffmpeg(words);
    CAPTURE(name);
    check_random_access(folder / name);
  };
  shape({"-an", "-c:v", "libx264", "-preset", "veryfast", "-x264-params", "open-gop=1:keyint=20:bframes=3"},
        "open.mp4");
  shape({"-an", "-c:v", "libx264", "-preset", "veryfast", "-x264-params", "open-gop=1:keyint=20:bframes=3"}, "open.ts");
  shape({"-an", "-vf", "select=not(mod(n\\,3))+gt(mod(n\\,40)\\,25)", "-vsync", "vfr", "-c:v", "libx264", "-preset",
         "ultrafast"},
        "varying.mp4");
  shape({"-an", "-c:v", "mpeg2video", "-q:v", "3", "-bf", "2"}, "mpeg2.ts");
  ffmpeg({"-ss", "0.5", "-i", a, "-c", "copy", (folder / "cut.mp4").string()});
  check_random_access(folder / "cut.mp4");
}

TEST_CASE("a stream that begins in the middle of a group begins at its first whole picture") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "mpegts";
  plan.noise = true;
  plan.pictures = 120;
  make_clip(folder / "a", plan);
  std::vector<std::uint8_t> bytes = read_bytes(folder / "a");
  bytes.erase(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(bytes.size() / 188 / 6 * 188));
  write_bytes(folder / "late.ts", bytes);
  const Seen seen = look(folder / "late.ts");
  CHECK(seen.times.front() == ClipTime{});
  const OutsideTimes outside = ffprobe_times(folder / "late.ts", "v:0");
  CHECK(seen.times.size() == static_cast<std::size_t>(outside.frames));
  check_random_access(folder / "late.ts");
}

TEST_CASE("before the first picture the first is shown, after the last the last") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  Result<media::PictureReader> reader = media::PictureReader::open(folder / "a");
  REQUIRE(reader);
  CHECK(reader->at(at_seconds(-5))->at == ClipTime{});
  CHECK(std::chrono::abs(reader->at(at_seconds(1000))->at - at_seconds(59.0 / 30)) < 1us);
  const Result<std::optional<media::TimedPicture>> next = reader->next();
  REQUIRE(next);
  CHECK_FALSE(next->has_value());
  CHECK(brightness(reader->at(at_seconds(1.01))->picture) > 180);
  CHECK(brightness(reader->at(at_seconds(0.99))->picture) < 100);
}

TEST_CASE("pictures are upright, as the ffmpeg program turns them, and as small as asked") {
  const TempFolder folder;
  ClipPlan plan;
  plan.width = 320;
  plan.height = 180;
  plan.noise = true;
  plan.pictures = 3;
  make_clip(folder / "a", plan);
  for (const std::string turn : {"0", "90", "180", "270"}) {
    CAPTURE(turn);
    const std::string path = (folder / (turn + ".mp4")).string();
    ffmpeg({"-i", (folder / "a").string(), "-c", "copy", "-metadata:s:v", "rotate=" + turn, path});
    const std::string raw = (folder / "raw").string();
    ffmpeg({"-i", path, "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgba", raw});
    Result<media::PictureReader> reader = media::PictureReader::open(path);
    REQUIRE(reader);
    const Result<media::TimedPicture> shown = reader->at({});
    REQUIRE(shown);
    const bool standing = turn == "90" || turn == "270";
    CHECK(shown->picture.width == (standing ? 180 : 320));
    CHECK(shown->picture.height == (standing ? 320 : 180));
    CHECK(difference(shown->picture, {shown->picture.width, shown->picture.height, read_bytes(raw)}) < 3);
    const Result<media::MediaInfo> info = media::probe(path);
    REQUIRE(info);
    CHECK(info->picture->width == shown->picture.width);
    CHECK(info->picture->height == shown->picture.height);
    Result<media::PictureReader> small = media::PictureReader::open(path, 90);
    REQUIRE(small);
    CHECK(small->at({})->picture.width == 90);
    CHECK(small->at({})->picture.height == (standing ? 160 : 51));
  }
}

TEST_CASE("colours survive being written and read") {
  const TempFolder folder;
  for (const int height : {240, 720}) {
    CAPTURE(height);
    media::WriterSettings settings;
    settings.container = "mp4";
    auto& pictures = settings.pictures.emplace();
    pictures.width = height * 4 / 3;
    pictures.height = height;
    Result<media::Writer> writer = media::Writer::open(folder / "a", settings);
    REQUIRE(writer);
    Picture picture = Picture::blank(pictures.width, pictures.height);
    for (std::size_t i = 0; i < picture.rgba.size(); i += 4) {
      picture.rgba[i] = 200;
      picture.rgba[i + 1] = 40;
      picture.rgba[i + 2] = 90;
    }
    REQUIRE(writer->write(picture));
    REQUIRE(writer->finish());
    const Seen seen = look(folder / "a");
    CHECK(difference(seen.pictures.at(0), picture) < 2.5);
  }
}

TEST_CASE("damaged pictures cost themselves, not the ones after the next whole one") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "mpegts";
  plan.noise = true;
  plan.pictures = 150;
  make_clip(folder / "a", plan);
  const Seen whole = look(folder / "a");
  std::vector<std::uint8_t> bytes = read_bytes(folder / "a");
  std::minstd_rand random{7};
  for (std::size_t i = bytes.size() * 40 / 100; i < bytes.size() * 45 / 100; ++i) {
    bytes[i] = static_cast<std::uint8_t>(random());
  }
  write_bytes(folder / "damaged", bytes);
  const Seen seen = look(folder / "damaged");
  CHECK(seen.times.size() > 100);
  CHECK(seen.times.back() == whole.times.back());
  CHECK(difference(seen.pictures.back(), whole.pictures.back()) < 0.01);
}

TEST_CASE("files without moving pictures are told apart from files that are none") {
  const TempFolder folder;
  ClipPlan plan;
  plan.picture_codec.clear();
  make_clip(folder / "sound", plan);
  CHECK(media::PictureReader::open(folder / "sound").error().code() == Code::not_found);
  CHECK(media::PictureReader::open(folder / "none").error().code() == Code::not_found);
  std::stop_source stop;
  make_clip(folder / "a", {});
  Result<media::PictureReader> reader = media::PictureReader::open(folder / "a", 0, stop.get_token());
  REQUIRE(reader);
  stop.request_stop();
  CHECK(reader->at(at_seconds(1.9)).error().code() == Code::cancelled);
}
