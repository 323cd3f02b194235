#include "actions/review_copies.h"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>

#include "actions/session_cameras.h"
#include "film/camera_reader.h"
#include "film/sound_track.h"
#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/picture_clock.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace std::chrono_literals;

namespace fs = std::filesystem;

namespace {

struct Shop {
  test::TempFolder folder;
  actions::CopySettings settings;
  std::vector<journal::Clip> clips;

  Shop() { settings.folder = folder / "copies"; }

  journal::Clip& add(const fs::path& file, Length length) {
    journal::Clip clip;
    journal::Part part;
    part.path = file;
    part.identity = *media::identify(file);
    part.length = length;
    clip.parts = {part};
    clip.length = length;
    clip.pictures.emplace();
    clips.push_back(clip);
    return clips.back();
  }
  fs::path marked(const std::string& name, test::MarkedPlan plan = {}) {
    plan.pictures = 60;
    test::make_marked_clip(folder / name, plan);
    add(folder / name, 60 * 40ms);
    return folder / name;
  }
  std::optional<fs::path> copy_of(const fs::path& file) {
    return actions::find_review_copy(*media::identify(file), settings.folder);
  }
  actions::CopiesReport make(const actions::Watch& watch = {}) {
    const auto report = actions::make_review_copies(clips, settings, watch);
    REQUIRE(report);
    return *report;
  }
  std::size_t files() const {
    std::size_t count = 0;
    for (const auto& entry : fs::directory_iterator{settings.folder}) count += entry.is_regular_file() ? 1U : 0U;
    return count;
  }
};

/// What `ffprobe` says each picture's time is, in the order they are shown, from the first picture on.
std::vector<double> outside_picture_times(const fs::path& file) {
  const std::string text = test::run({"ffprobe", "-v", "error", "-select_streams", "v:0", "-show_entries",
                                      "frame=pts_time", "-of", "csv=p=0", file.string()});
  std::vector<double> times;
  for (std::size_t at = 0; at < text.size();) {
    std::size_t end = text.find('\n', at);
    if (end == std::string::npos) end = text.size();
    if (end > at) times.push_back(std::stod(text.substr(at, end - at)));
    at = end + 1;
  }
  for (std::size_t i = times.size(); i > 0; --i) times[i - 1] -= times[0];
  return times;
}

film::Camera camera_of(const fs::path& file, Length length) {
  film::Clip clip;
  clip.parts = {{file, {}, {}, ClipTime{}, length}};
  clip.pieces = {{ClipTime{}, ClipTime{length}, SessionTime{}, 0, Length{0}}};
  return {"bench", {clip}};
}

double first_click(const fs::path& file) {
  film::SoundTrack track{camera_of(file, 3s), 48000, false};
  track.go_to(SessionTime{500ms});
  std::vector<float> samples(48000);
  REQUIRE(track.read(samples));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (std::abs(samples[i]) > 0.3F) return 0.5 + static_cast<double>(i) / 48000;
  }
  return -1;
}

}  // namespace

TEST_CASE("a copy shows the same pictures at the same clip times and sounds as the source does") {
  Shop shop;
  test::MarkedPlan plan;
  plan.width = 1280;
  plan.height = 720;
  plan.rate_num = 30000;
  plan.rate_den = 1001;
  const auto source = shop.marked("wide.mov", plan);
  const auto report = shop.make();
  CHECK(report.made == 1);
  CHECK(report.notes.empty());
  const auto copy = shop.copy_of(source);
  REQUIRE(copy);
  const auto there = outside_picture_times(source);
  const auto here = outside_picture_times(*copy);
  REQUIRE(there.size() == 60);
  REQUIRE(here.size() == 60);
  for (std::size_t i = 0; i < 60; ++i) CHECK(std::abs(here[i] - there[i]) < 20e-6);
  film::CameraReader reader{camera_of(*copy, 2s), {}};
  for (const Length t : {1900ms, 10ms, 1000ms, 333ms}) {
    const auto seen = reader.at(SessionTime{t});
    REQUIRE(seen);
    CHECK(seen->picture.width == 640);
    const auto marking = test::read_marking(seen->picture);
    REQUIRE(marking);
    CHECK(marking->number == static_cast<int>(to_seconds(t) * 30000 / 1001));
  }
  CHECK(std::abs(first_click(source) - 1) < 1e-4);
  // What ffmpeg calls the same: AAC keeps an onset to within some samples.
  CHECK(std::abs(first_click(*copy) - first_click(source)) < 0.001);
}

TEST_CASE("pictures that come at odd times, turned, with sound that begins early, keep their places in the copy") {
  Shop shop;
  const auto plain = shop.folder / "plain.mov";
  test::MarkedPlan plan;
  plan.pictures = 60;
  test::make_marked_clip(plain, plan);
  // Every third picture left out, the pictures 300 ms behind the sound, and turned by a quarter.
  const auto odd = shop.folder / "odd.mov";
  test::ffmpeg({"-i", plain.string(), "-itsoffset", "0.3", "-i", plain.string(), "-map", "1:v", "-map", "0:a", "-vf",
                "select='mod(n,3)'", "-fps_mode", "vfr", "-c:a", "copy", "-c:v", "libx264",
                (shop.folder / "odd0.mov").string()});
  test::ffmpeg({"-i", (shop.folder / "odd0.mov").string(), "-c", "copy", "-metadata:s:v:0", "rotate=90", odd.string()});
  shop.add(odd, 2400ms);
  const auto report = shop.make();
  REQUIRE(report.made == 1);
  const auto copy = shop.copy_of(odd);
  const auto there = outside_picture_times(odd);
  const auto here = outside_picture_times(*copy);
  REQUIRE(there.size() == here.size());
  for (std::size_t i = 0; i < there.size(); ++i) CHECK(std::abs(here[i] - there[i]) < 20e-6);
  film::CameraReader source{camera_of(odd, 2400ms), {}};
  film::CameraReader small{camera_of(*copy, 2400ms), {}};
  const auto from_source = source.at(SessionTime{1s});
  const auto from_copy = small.at(SessionTime{1s});
  REQUIRE(from_source);
  REQUIRE(from_copy);
  CHECK(from_source->picture.width == 180);
  CHECK(from_copy->picture.width == 180);
  CHECK(from_copy->picture.height == 320);
  CHECK(std::abs(first_click(*copy) - first_click(odd)) < 0.001);
}

TEST_CASE("what has a copy is not copied again, and the copies are found for the cameras") {
  Shop shop;
  shop.marked("a.mov");
  CHECK(shop.make().made == 1);
  const auto again = shop.make();
  CHECK(again.made == 0);
  CHECK(again.known_already == 1);
  journal::SessionRecord record;
  record.clips = shop.clips;
  record.clips[0].camera = journal::CameraId{1};
  journal::Register known;
  known.cameras = {{journal::CameraId{1}, "bench"}, {journal::CameraId{2}, "unused"}};
  const auto cameras = actions::cameras_of(record, known, shop.settings.folder);
  REQUIRE(cameras.cameras.size() == 1);
  CHECK(cameras.cameras[0].clips[0].parts[0].copy == shop.copy_of(shop.clips[0].parts[0].path));
  CHECK(actions::source_cameras_of(record, known).cameras[0].clips[0].parts[0].copy.empty());
}

TEST_CASE("a copy that went bad is left aside, thrown away, and made again") {
  Shop shop;
  const auto source = shop.marked("a.mov");
  shop.make();
  const auto copy = *shop.copy_of(source);
  std::ofstream{copy, std::ios::trunc} << "rubbish";
  film::Camera camera = camera_of(source, 2400ms);
  camera.clips[0].parts[0].copy = copy;
  film::CameraReader reader{camera, {}};
  const auto seen = reader.at(SessionTime{1s});
  REQUIRE(seen);
  CHECK(test::read_marking(seen->picture)->number == 25);
  REQUIRE(reader.bad_copies().size() == 1);
  actions::drop_review_copy(reader.bad_copies()[0]);
  CHECK(!shop.copy_of(source));
  CHECK(shop.make().made == 1);
  CHECK(fs::file_size(*shop.copy_of(source)) > 1000);
}

TEST_CASE("a copy that was stopped half-way leaves nothing behind") {
  Shop shop;
  const auto source = shop.marked("a.mov");
  std::stop_source stop;
  actions::Watch watch;
  watch.stop = stop.get_token();
  int told = 0;
  watch.progress = [&](double, std::string_view) {
    ++told;
    stop.request_stop();
  };
  const auto report = actions::make_review_copies(shop.clips, shop.settings, watch);
  REQUIRE(!report);
  CHECK(report.error().code() == Code::cancelled);
  CHECK(told >= 1);
  CHECK(shop.files() == 0);
  CHECK(!shop.copy_of(source));
}

TEST_CASE("progress goes up to the end") {
  Shop shop;
  shop.marked("a.mov");
  shop.marked("b.mov", {.first_number = 100});
  double last = -1;
  actions::Watch watch;
  watch.progress = [&](double fraction, std::string_view doing) {
    CHECK(fraction >= last);
    CHECK(fraction <= 1);
    CHECK(doing.find(".mov") != std::string_view::npos);
    last = fraction;
  };
  CHECK(shop.make(watch).made == 2);
  CHECK(last > 0.5);
}

TEST_CASE("files that are no footage, lost or others than they were are named, and the rest is copied") {
  Shop shop;
  const auto rubbish = shop.folder / "rubbish.mov";
  std::ofstream{rubbish} << "no film, but long enough to be looked at";
  shop.add(rubbish, 1s);
  const auto lost = shop.marked("lost.mov");
  fs::remove(lost);
  const auto changed = shop.marked("changed.mov", {.first_number = 7});
  std::ofstream{changed, std::ios::app} << "more";
  const auto good = shop.marked("good.mov", {.first_number = 9});
  const auto report = shop.make();
  CHECK(report.made == 1);
  REQUIRE(report.notes.size() == 3);
  CHECK(report.notes[0].find("rubbish.mov") != std::string::npos);
  CHECK(report.notes[1].find("lost.mov") != std::string::npos);
  CHECK(report.notes[2].find("another file") != std::string::npos);
  CHECK(shop.copy_of(good));
  CHECK(shop.files() == 1);
}

TEST_CASE("a recording that was cut off is copied as far as it goes") {
  Shop shop;
  test::MarkedPlan plan;
  plan.container = "mpegts";
  plan.sound_codec = "aac";
  plan.pictures = 60;
  const auto cut = shop.folder / "cut.ts";
  test::make_marked_clip(cut, plan);
  auto bytes = test::read_bytes(cut);
  bytes.resize(bytes.size() * 2 / 3);
  test::write_bytes(cut, bytes);
  shop.add(cut, 2400ms);
  CHECK(shop.make().made == 1);
  const auto copy = shop.copy_of(cut);
  REQUIRE(copy);
  const std::size_t left = outside_picture_times(*copy).size();
  CHECK(left >= 20);
  CHECK(left < 60);
}

TEST_CASE("the longest unused copies make room, and only copies of ours") {
  Shop shop;
  const auto old = shop.marked("old.mov");
  const auto used = shop.marked("used.mov", {.first_number = 100});
  shop.make();
  const auto foreign = shop.settings.folder / "holiday.mp4";
  std::ofstream{foreign} << std::string(100'000, 'x');
  fs::last_write_time(*shop.copy_of(old), fs::file_time_type::clock::now() - 48h);
  const auto old_copy = shop.settings.folder / (media::identify(old)->hex() + ".1.review.mp4");
  REQUIRE(fs::exists(old_copy));
  fs::last_write_time(old_copy, fs::file_time_type::clock::now() - 48h);
  const auto keeps = fs::file_size(*shop.copy_of(used));
  actions::trim_review_copies(keeps + 10, shop.settings.folder);
  CHECK(!fs::exists(old_copy));
  CHECK(shop.copy_of(used));
  CHECK(fs::exists(foreign));
  actions::drop_review_copy(foreign);
  actions::trim_review_copies(0, shop.settings.folder);
  CHECK(!shop.copy_of(used));
  CHECK(fs::exists(foreign));
}

TEST_CASE("when what is asked for does not fit, the first copies stay and a note says where it ended") {
  Shop shop;
  const auto first = shop.marked("first.mov");
  shop.make();
  shop.settings.most_bytes = fs::file_size(*shop.copy_of(first)) + 100;
  const auto second = shop.marked("second.mov", {.first_number = 100});
  const auto report = shop.make();
  CHECK(report.made == 0);
  REQUIRE(report.notes.size() == 1);
  CHECK(report.notes[0].find("second.mov") != std::string::npos);
  CHECK(shop.copy_of(first));
  CHECK(!shop.copy_of(second));
}

TEST_CASE("a folder that cannot be made is an error that names it") {
  Shop shop;
  std::ofstream{shop.folder / "file"} << "x";
  shop.settings.folder = shop.folder / "file" / "copies";
  shop.marked("a.mov");
  const auto report = actions::make_review_copies(shop.clips, shop.settings, {});
  REQUIRE(!report);
  CHECK(report.error().code() == Code::denied);
  CHECK(report.error().message().find("file") != std::string::npos);
}
