#include "film/film.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <tuple>

#include "film/layout.h"
#include "film/pace.h"
#include "support/clip_maker.h"
#include "support/picture_clock.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace std::chrono_literals;

namespace {

/// Three cameras, each with its own rate and clock; the last runs for a second only.
struct Shop {
  test::TempFolder folder;
  film::FilmPlan plan;

  Shop() {
    const std::array<std::pair<int, int>, 3> rates{{{25, 1}, {30000, 1001}, {24, 1}}};
    const std::array<SessionTime, 3> starts{SessionTime{0s}, SessionTime{310ms}, SessionTime{1s}};
    for (int i = 0; i < 3; ++i) {
      test::MarkedPlan marked;
      marked.width = 160;
      marked.height = 90;
      marked.camera = i;
      std::tie(marked.rate_num, marked.rate_den) = rates[static_cast<std::size_t>(i)];
      marked.pictures = i == 2 ? 24 : 90;
      const auto path = folder / ("camera" + std::to_string(i) + ".mov");
      test::make_marked_clip(path, marked);
      plan.cameras.push_back({"camera " + std::to_string(i),
                              {test::placed_clip(path, marked, starts[static_cast<std::size_t>(i)], i * 50'000)}});
    }
    plan.rate = {25, 1};
    plan.width = 640;
    plan.stretches = {{*SessionRange::make(SessionTime{0s}, SessionTime{3200ms}), 1000}};
    plan.threads = 1;
  }
  std::filesystem::path file() const { return folder / "film.mp4"; }
  film::FilmReport make() {
    const auto report = film::make_film(plan, file(), {}, {});
    if (!report) FAIL(report.error().message());
    return *report;
  }
};

/// The film's pictures as the ffmpeg program decodes them.
std::vector<Picture> pictures_of(const std::filesystem::path& file, int width, int height) {
  const std::string bytes =
      test::run({"ffmpeg", "-v", "error", "-i", file.string(), "-f", "rawvideo", "-pix_fmt", "rgba", "-"});
  const std::size_t size = static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4;
  REQUIRE(bytes.size() % size == 0);
  std::vector<Picture> pictures;
  for (std::size_t at = 0; at < bytes.size(); at += size) {
    Picture picture = Picture::blank(width, height);
    std::copy_n(bytes.begin() + static_cast<std::ptrdiff_t>(at), size, picture.rgba.begin());
    pictures.push_back(std::move(picture));
  }
  return pictures;
}

/// The number the camera's picture at `t` must have; nothing where it is off.
std::optional<int> wanted(const film::Camera& camera, SessionTime t, int rate_num, int rate_den) {
  const Piece& piece = camera.clips[0].pieces[0];
  if (t < piece.session_start || t >= piece.session_end()) return std::nullopt;
  const double clip_s = to_seconds(t - piece.session_start) / (1 + static_cast<double>(piece.rate_ppb) * 1e-9);
  return static_cast<int>(std::floor(clip_s * rate_num / rate_den + 1e-6));
}

std::string probe(const std::filesystem::path& file, const std::string& entries, const std::string& stream = "") {
  std::vector<std::string> words{"ffprobe", "-v", "error", "-show_entries", entries, "-of", "default=nw=1:nk=1"};
  if (!stream.empty()) words.insert(words.end(), {"-select_streams", stream});
  words.push_back(file.string());
  return test::run(words);
}

}  // namespace

TEST_CASE("every picture of the film shows each camera's picture of that instant, and off where it was off") {
  Shop shop;
  const auto report = shop.make();
  CHECK(report.pictures == 80);
  const auto pictures = pictures_of(shop.file(), report.width, report.height);
  REQUIRE(pictures.size() == 80);
  const film::Layout layout = film::lay_out(3, 640);
  const std::array<std::pair<int, int>, 3> rates{{{25, 1}, {30000, 1001}, {24, 1}}};
  for (std::size_t n = 0; n < pictures.size(); ++n) {
    const SessionTime t{static_cast<std::int64_t>(n) * 40ms};
    for (std::size_t camera = 0; camera < 3; ++camera) {
      CAPTURE(n);
      CAPTURE(camera);
      const film::Box& box = layout.panels[camera];
      const auto seen = test::read_marking(pictures[n], box.left, box.top, box.width, box.height);
      const auto should = wanted(shop.plan.cameras[camera], t, rates[camera].first, rates[camera].second);
      CHECK(seen.has_value() == should.has_value());
      if (!seen || !should) continue;
      CHECK(seen->camera == static_cast<int>(camera));
      CHECK(seen->number == *should);
    }
  }
}

TEST_CASE("a film eight times as fast shows every eighth instant, and has no sound") {
  Shop shop;
  shop.plan.stretches[0].speed_milli = 8000;
  const auto report = shop.make();
  CHECK(report.pictures == 10);
  const auto pictures = pictures_of(shop.file(), report.width, report.height);
  REQUIRE(pictures.size() == 10);
  const film::Box box = film::lay_out(3, 640).panels[0];
  for (std::size_t n = 0; n < 10; ++n) {
    const auto seen = test::read_marking(pictures[n], box.left, box.top, box.width, box.height);
    REQUIRE(seen);
    CHECK(seen->number == static_cast<int>(n) * 8);
  }
  CHECK(probe(shop.file(), "stream=codec_type").find("audio") == std::string::npos);
}

TEST_CASE("what others see of the film: kind, rate, length, chapters, title") {
  Shop shop;
  shop.plan.sound_camera = 0;
  shop.plan.title = "Marten, 2026-03-14";
  shop.plan.chapters = {{SessionTime{-5s}, "Drill"},
                        {SessionTime{1s}, "Rivet \"skin\"; = both"},
                        {SessionTime{2s}, "Check"},
                        {SessionTime{99s}, "Later"}};
  shop.make();
  CHECK(probe(shop.file(), "stream=codec_name,pix_fmt,width,height,r_frame_rate", "v:0") ==
        "h264\n640\n360\nyuv420p\n25/1\n");
  CHECK(probe(shop.file(), "stream=codec_name,sample_rate", "a:0") == "aac\n48000\n");
  CHECK(std::abs(std::stod(probe(shop.file(), "stream=duration", "v:0")) - 3.2) < 1e-3);
  CHECK(std::abs(std::stod(probe(shop.file(), "stream=duration", "a:0")) - 3.2) < 0.03);
  CHECK(probe(shop.file(), "format_tags=title,comment") ==
        std::string{"Marten, 2026-03-14\n"} + film::film_comment + "\n");
  const std::string chapters =
      test::run({"ffprobe", "-v", "error", "-show_chapters", "-of", "csv=p=0", shop.file().string()});
  const auto holds = [&](const std::string& text) { return chapters.find(text) != std::string::npos; };
  CHECK(std::count(chapters.begin(), chapters.end(), '\n') == 3);
  CHECK(holds(",0.000000,"));
  CHECK(holds(",1.000000,"));
  CHECK(holds("Rivet"));
  CHECK(holds("; = both"));
  CHECK(!holds("Later"));
}

TEST_CASE("the film's sound lies where its pictures do, at 1x and at the same pitch at 2x") {
  for (const int speed : {1000, 2000}) {
    CAPTURE(speed);
    Shop shop;
    shop.plan.sound_camera = 0;
    shop.plan.stretches[0].speed_milli = speed;
    shop.make();
    const std::string bytes = test::run(
        {"ffmpeg", "-v", "error", "-i", shop.file().string(), "-vn", "-f", "f32le", "-ac", "1", "-ar", "48000", "-"});
    std::vector<float> samples(bytes.size() / 4);
    std::memcpy(samples.data(), bytes.data(), samples.size() * 4);
    for (const double second : {1.0, 2.0}) {
      // The click at that second of the session, searched for around where it must be.
      const double at = second * 1000 / speed;
      double found = -1;
      for (auto i = static_cast<std::size_t>((at - 0.1) * 48000); i < static_cast<std::size_t>((at + 0.1) * 48000);
           ++i) {
        if (std::abs(samples[i]) > 0.2F) {
          found = static_cast<double>(i) / 48000;
          break;
        }
      }
      // At 2x one single click may be off by 10 ms, see film/tempo.h, or be left out.
      if (speed == 1000) CHECK(std::abs(found - at) < 0.002);
      if (speed == 2000 && found > 0) CHECK(std::abs(found - at) < 0.020);
    }
  }
}

TEST_CASE("footage that is lost shows why in its panel and is noted; the rest of the film is made") {
  Shop shop;
  std::filesystem::remove(shop.folder / "camera1.mov");
  const auto report = shop.make();
  REQUIRE(report.notes.size() == 1);
  CHECK(report.notes[0].find("camera1.mov") != std::string::npos);
  const auto pictures = pictures_of(shop.file(), report.width, report.height);
  const film::Box box = film::lay_out(3, 640).panels[0];
  CHECK(test::read_marking(pictures[50], box.left, box.top, box.width, box.height)->number == 50);
}

TEST_CASE("a film that is stopped says so") {
  Shop shop;
  std::stop_source stop;
  const auto report = film::make_film(shop.plan, shop.file(), stop.get_token(), [&](double) { stop.request_stop(); });
  REQUIRE(!report);
  CHECK(report.error().code() == Code::cancelled);
}

TEST_CASE("a film into a folder that is not there is an error that names it") {
  Shop shop;
  const auto report = film::make_film(shop.plan, shop.folder / "nowhere" / "film.mp4", {}, {});
  REQUIRE(!report);
  CHECK(report.error().code() == Code::not_found);
}
