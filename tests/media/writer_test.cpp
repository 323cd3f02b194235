#include "media/writer.h"

#include <doctest/doctest.h>

#include <chrono>
#include <string>

#include "media/listening.h"
#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

struct Kind {
  std::string container;
  std::string pictures;
  std::string sound;
  Length slack;  ///< how far the click may be off: two samples, or what the container rounds its stamps to
};

constexpr Length two_samples{41'667};

const Kind kinds[] = {
    {"mp4", "libx264", "aac", two_samples},
    {"mp4", "libx264", "libmp3lame", two_samples},
    {"mp4", "libx264", "libopus", two_samples},
    {"mp4", "libx264", "flac", two_samples},
    {"mov", "libx264", "aac", two_samples},
    {"mov", "libx264", "pcm_s16le", two_samples},
    {"mpegts", "libx264", "aac", two_samples},
    {"mpegts", "libx264", "libmp3lame", two_samples},
    {"mpegts", "libx264", "libopus", two_samples},
    {"matroska", "libx264", "aac", 500us},
    {"matroska", "libx264", "libmp3lame", 500us},
    {"matroska", "libx264", "libopus", 500us},
    {"matroska", "libx264", "flac", two_samples},
    {"matroska", "libx264", "pcm_s16le", two_samples},
    {"avi", "mjpeg", "pcm_s16le", two_samples},
    {"avi", "libx264", "pcm_s16le", two_samples},
    {"avi", "libx264", "libmp3lame", two_samples},
    {"avi", "libx264", "aac", two_samples},
    {"mp4", "", "aac", two_samples},
    {"matroska", "", "libopus", 500us},
    {"wav", "", "pcm_s16le", two_samples},
};

media::WriterSettings good_settings() {
  media::WriterSettings settings;
  settings.container = "mp4";
  settings.pictures.emplace();
  settings.pictures->width = 64;
  settings.pictures->height = 48;
  settings.sound.emplace();
  return settings;
}

Code refusal(const TempFolder& folder, const media::WriterSettings& settings) {
  const Result<media::Writer> writer = media::Writer::open(folder / "a", settings);
  REQUIRE_FALSE(writer.ok());
  return writer.error().code();
}

}  // namespace

TEST_CASE("a click and a flash written at one time are read back at that time, from every container") {
  const TempFolder folder;
  for (const Kind& kind : kinds) {
    CAPTURE(kind.container);
    CAPTURE(kind.pictures);
    CAPTURE(kind.sound);
    ClipPlan plan;
    plan.container = kind.container;
    plan.picture_codec = kind.pictures;
    plan.sound_codec = kind.sound;
    make_clip(folder / "a", plan);
    const Heard heard = listen(folder / "a");
    CHECK(heard.level > 0.3F);
    CHECK(heard.gaps.empty());
    CHECK(std::chrono::abs(heard.loudest - at_seconds(1.0)) <= kind.slack);
    if (plan.picture_codec.empty()) continue;
    CHECK(std::chrono::abs(look(folder / "a").flash - at_seconds(1.0)) <= 500us);
    const Result<media::MediaInfo> info = media::probe(folder / "a");
    REQUIRE(info);
    CHECK(std::chrono::abs(info->length - 2s) <= 1ms);
  }
}

TEST_CASE("odd picture rates keep their times") {
  const TempFolder folder;
  for (const auto& [num, den] : {std::pair{30000, 1001}, {60000, 1001}, {24000, 1001}, {25, 1}, {50, 1}}) {
    for (const std::string container : {"mp4", "mov", "mpegts"}) {
      CAPTURE(num);
      CAPTURE(container);
      ClipPlan plan;
      plan.container = container;
      plan.rate_num = num;
      plan.rate_den = den;
      plan.pictures = 90;
      plan.flash_at = 60;
      make_clip(folder / "a", plan);
      const Seen seen = look(folder / "a");
      REQUIRE(seen.times.size() == 90);
      const auto due = [&, n = num, d = den](int index) {
        return ClipTime{Length{scaled(index, std::int64_t{d} * 1'000'000'000, n)}};
      };
      // A transport stream's tick is 11 us.
      CHECK(std::chrono::abs(seen.flash - due(60)) <= 12us);
      CHECK(std::chrono::abs(seen.times.back() - due(89)) <= 12us);
    }
  }
}

TEST_CASE("every channel carries the sound at full level") {
  const TempFolder folder;
  for (const int channels : {1, 2, 6}) {
    ClipPlan plan;
    plan.container = "mov";
    plan.sound_codec = "pcm_s16le";
    plan.channels = channels;
    make_clip(folder / "a", plan);
    CHECK(media::probe(folder / "a")->sound->channels == channels);
    CHECK(listen(folder / "a").level == doctest::Approx(0.9).epsilon(0.001));
  }
}

TEST_CASE("ffprobe and ffmpeg find nothing to complain about") {
  const TempFolder folder;
  for (const Kind& kind : kinds) {
    CAPTURE(kind.container);
    CAPTURE(kind.sound);
    ClipPlan plan;
    plan.container = kind.container;
    plan.picture_codec = kind.pictures;
    plan.sound_codec = kind.sound;
    make_clip(folder / "a", plan);
    CHECK_NOTHROW(ffmpeg({"-xerror", "-i", (folder / "a").string(), "-f", "null", "-"}));
  }
}

TEST_CASE("settings that cannot be met are refused before anything is written") {
  const TempFolder folder;
  const auto changed = [](auto change) {
    media::WriterSettings settings = good_settings();
    change(settings);
    return settings;
  };
  CHECK(refusal(folder, changed([](auto& s) { s.container = "exe"; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.container = ""; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.pictures.reset(), s.sound.reset(); })) == Code::invalid);
  CHECK_FALSE(std::filesystem::exists(folder / "a"));
  CHECK(refusal(folder, changed([](auto& s) { s.pictures->width = 63; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.pictures->height = 0; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.pictures->rate_num = 0; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.pictures->codec = "aac"; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.pictures->codec = "none"; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.sound->codec = "pcm_s16le"; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.sound->channels = 0; })) == Code::invalid);
  CHECK(refusal(folder, changed([](auto& s) { s.sound->sample_rate_hz = 47999; })) == Code::invalid);
}

TEST_CASE("pictures of another size, and what was not asked for, are refused") {
  const TempFolder folder;
  media::WriterSettings settings = good_settings();
  settings.sound.reset();
  Result<media::Writer> writer = media::Writer::open(folder / "a", settings);
  REQUIRE(writer);
  CHECK(writer->write(Picture::blank(32, 32)).error().code() == Code::invalid);
  const std::vector<float> samples(100);
  CHECK(writer->write(std::span<const float>{samples}).error().code() == Code::invalid);
  CHECK(writer->write(Picture::blank(64, 48)).ok());
  CHECK(writer->finish().ok());
  CHECK(writer->finish().ok());
}

TEST_CASE("a place that cannot be written says so, and so does a full disk") {
  const TempFolder folder;
  CHECK(media::Writer::open(folder / "none" / "a", good_settings()).error().code() == Code::not_found);
  CHECK_FALSE(media::Writer::open(folder.path(), good_settings()).ok());
  // The kernel's always full device stands in for a disk without space.
  ClipPlan plan;
  Result<media::Writer> writer = media::Writer::open("/dev/full", good_settings());
  Done done;
  if (writer) {
    for (int i = 0; i < 30 && done; ++i) done = writer->write(Picture::blank(64, 48));
    if (done) done = writer->finish();
  } else {
    done = writer.error();
  }
  REQUIRE_FALSE(done.ok());
  CHECK(done.error().code() == Code::no_space);
}
