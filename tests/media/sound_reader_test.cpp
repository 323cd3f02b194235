#include "media/sound_reader.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <cstring>
#include <limits>
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

std::string noisy(const TempFolder& folder, const std::string& container, const std::string& sound) {
  ClipPlan plan;
  plan.container = container;
  plan.sound_codec = sound;
  plan.noise = true;
  plan.pictures = 120;
  const std::filesystem::path path = folder / (container + sound);
  make_clip(path, plan);
  return path.string();
}

std::vector<float> floats(const std::vector<std::uint8_t>& bytes) {
  std::vector<float> values(bytes.size() / sizeof(float));
  std::memcpy(values.data(), bytes.data(), values.size() * sizeof(float));
  return values;
}

template <class Value>
std::vector<std::uint8_t> as_bytes(const std::vector<Value>& values) {
  std::vector<std::uint8_t> bytes(values.size() * sizeof(Value));
  if (!bytes.empty()) std::memcpy(bytes.data(), values.data(), bytes.size());
  return bytes;
}

double worst_difference(const std::vector<float>& a, const std::vector<float>& b) {
  double most = 0;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) most = std::max(most, std::abs(double{a[i]} - b[i]));
  return most;
}

/// Correlation coefficient of a and of b `lag` samples later.
double likeness(const std::vector<float>& a, const std::vector<float>& b, std::size_t lag) {
  double ab = 0;
  double aa = 0;
  double bb = 0;
  for (std::size_t i = 0; i < a.size() && i + lag < b.size(); ++i) {
    ab += double{a[i]} * b[i + lag];
    aa += double{a[i]} * a[i];
    bb += double{b[i + lag]} * b[i + lag];
  }
  return aa > 0 && bb > 0 ? ab / std::sqrt(aa * bb) : 0;
}

}  // namespace

TEST_CASE("samples are those that the ffmpeg program decodes") {
  const TempFolder folder;
  for (const auto& [container, sound] : {std::pair<std::string, std::string>{"mp4", "aac"},
                                         {"mov", "pcm_s16le"},
                                         {"mpegts", "aac"},
                                         {"mpegts", "libmp3lame"},
                                         {"matroska", "libopus"},
                                         {"matroska", "flac"},
                                         {"avi", "libmp3lame"}}) {
    CAPTURE(container);
    CAPTURE(sound);
    const std::string path = noisy(folder, container, sound);
    const std::string raw = (folder / "raw").string();
    ffmpeg({"-i", path, "-vn", "-ac", "1", "-f", "f32le", raw});
    const std::vector<float> theirs = floats(read_bytes(raw));
    const Heard ours = listen(path);
    REQUIRE(ours.samples.size() == theirs.size());
    CHECK(worst_difference(ours.samples, theirs) < 1e-4);
  }
}

TEST_CASE("at the line-up's rate the click stays where it was") {
  const TempFolder folder;
  for (const std::string container : {"mp4", "mov", "mpegts", "matroska"}) {
    CAPTURE(container);
    ClipPlan plan;
    plan.container = container;
    plan.click_at = 60000;
    make_clip(folder / "a", plan);
    const Heard heard = listen(folder / "a", 16000);
    // One sample at 16 kHz, and what Matroska rounds to.
    CHECK(std::chrono::abs(heard.loudest - at_seconds(1.25)) <= 62500ns + (container == "matroska" ? 500us : 0us));
    CHECK(heard.gaps.empty());
  }
}

TEST_CASE("sound that starts late or early keeps its distance from the pictures") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  const std::string a = (folder / "a").string();
  for (const std::string kind : {"mp4", "mov", "ts", "mkv"}) {
    CAPTURE(kind);
    const std::string late = (folder / ("late." + kind)).string();
    ffmpeg({"-i", a, "-itsoffset", "0.7", "-i", a, "-map", "0:v", "-map", "1:a", "-c", "copy", late});
    const std::string early = (folder / ("early." + kind)).string();
    ffmpeg({"-i", a, "-itsoffset", "0.7", "-i", a, "-map", "1:v", "-map", "0:a", "-c", "copy", early});
    CHECK(std::abs(to_seconds(listen(late).loudest) - 1.7) < 0.0011);
    CHECK(std::abs(to_seconds(listen(early).loudest) - 0.3) < 0.0011);
    CHECK(listen(early).begin < ClipTime{});
  }
}

TEST_CASE("sound that begins long after the pictures is found") {
  const TempFolder folder;
  ClipPlan plan;
  plan.noise = true;
  plan.pictures = 450;
  plan.width = 320;
  plan.height = 240;
  plan.click_at = 14 * 48000;
  make_clip(folder / "a", plan);
  const std::string a = (folder / "a").string();
  for (const std::string kind : {"ts", "mkv", "mp4"}) {
    CAPTURE(kind);
    const std::string path = (folder / ("late." + kind)).string();
    ffmpeg({"-i", a, "-ss", "12", "-copyts", "-i", a, "-map", "0:v", "-map", "1:a", "-c", "copy", path});
    const Result<media::MediaInfo> info = media::probe(path);
    REQUIRE(info);
    REQUIRE(info->sound);
    CHECK(info->sound->sample_rate_hz == 48000);
    // ffmpeg begins to copy at the key picture before.
    CHECK(info->sound->begin > at_seconds(11));
    CHECK(info->sound->begin < at_seconds(12.05));
    CHECK(std::abs(to_seconds(listen(path).loudest) - 14.0) < 0.0011);
  }
}

TEST_CASE("a transport stream may start anywhere and its stamps may wrap") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  // Stamps of 33 bits at 90 kHz wrap after 95443.7 s.
  for (const std::string offset : {"0", "36000", "95442.5", "95443.69", "95443.6"}) {
    CAPTURE(offset);
    const std::string path = (folder / (offset + ".ts")).string();
    ffmpeg({"-i", (folder / "a").string(), "-c", "copy", "-output_ts_offset", offset, path});
    const Heard heard = listen(path);
    CHECK(std::abs(to_seconds(heard.loudest) - 1.0) < 0.0001);
    CHECK(heard.gaps.empty());
    CHECK(std::abs(to_seconds(media::probe(path)->length) - 2.0) < 0.0001);
    CHECK(look(path).times.size() == 60);
  }
}

TEST_CASE("a jump in the stamps begins a new block at the stamped time") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  const std::string a = (folder / "a").string();
  // Sound packets 20 to 39 of 95 are lost, as when a camera drops out and goes on.
  ffmpeg({"-i", a, "-c", "copy", "-bsf:a", "noise=drop=between(n\\,20\\,39)", (folder / "hole.mkv").string()});
  const Heard heard = listen(folder / "hole.mkv");
  REQUIRE(heard.gaps.size() == 1);
  CHECK(std::abs(to_seconds(heard.gaps[0].to - heard.gaps[0].from) - 20 * 1024 / 48000.0) < 0.0011);
  CHECK(std::abs(to_seconds(heard.loudest) - 1.0) < 0.0011);
}

TEST_CASE("rounded stamps make no gaps") {
  const TempFolder folder;
  ClipPlan plan;
  plan.container = "matroska";
  plan.noise = true;
  plan.pictures = 300;
  make_clip(folder / "a", plan);
  CHECK(listen(folder / "a", 16000).gaps.empty());
}

// Known fault, still open: see the failing checks.
TEST_CASE("stamps that drift away from the count are honoured in steps") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  // Every second packet is stamped another millisecond late: 47 ms over two seconds.
  ffmpeg({"-i", (folder / "a").string(), "-vn", "-c", "copy", "-bsf:a", "setts=ts=PTS+trunc(N/2)", "-f", "matroska",
          (folder / "drift").string()});
  const Heard heard = listen(folder / "drift");
  CHECK(heard.gaps.size() >= 6);
  for (const Heard::Gap& gap : heard.gaps) {
    CHECK(gap.to - gap.from > 5ms);
    CHECK(gap.to - gap.from < 7ms);
  }
  // Without pictures zero is the first sample, which Matroska cannot tell is the encoder's delay of 1024.
  CHECK(std::abs(to_seconds(heard.loudest) - (1.0 + 1024 / 48000.0 + 47 * 0.0005)) < 0.007);
}

TEST_CASE("a change of rate or channels on the way is followed") {
  const TempFolder folder;
  const auto tone = [&](const std::string& name, const std::string& rate, const std::string& channels) {
    const std::string path = (folder / name).string();
    ffmpeg(
        {"-f", "lavfi", "-i", "sine=f=500:r=" + rate + ":d=1", "-ac", channels, "-c:a", "aac", "-f", "mpegts", path});
    return read_bytes(path);
  };
  std::vector<std::uint8_t> both = tone("a", "48000", "1");
  const std::vector<std::uint8_t> second = tone("b", "44100", "2");
  both.insert(both.end(), second.begin(), second.end());
  write_bytes(folder / "both.ts", both);
  const Heard heard = listen(folder / "both.ts", 16000);
  // The second half's stamps start again where the first half's did.
  CHECK(std::abs(static_cast<double>(heard.samples.size()) - 2.05 * 16000) < 0.06 * 16000);
  double sum = 0;
  for (const float sample : heard.samples) sum += double{sample} * sample;
  CHECK(sum > 0);
}

// Known fault, still open: see the failing checks.
TEST_CASE("a seek gives the same samples at the same times as reading from the start") {
  const TempFolder folder;
  for (const auto& [container, sound] : {std::pair<std::string, std::string>{"mp4", "aac"},
                                         {"mov", "pcm_s16le"},
                                         {"mpegts", "aac"},
                                         {"matroska", "flac"},
                                         {"matroska", "libopus"},
                                         {"avi", "pcm_s16le"},
                                         {"wav", "pcm_s16le"}}) {
    CAPTURE(container);
    CAPTURE(sound);
    ClipPlan plan;
    plan.container = container;
    plan.sound_codec = sound;
    plan.noise = true;
    plan.pictures = 150;
    if (plan.container == "wav") plan.picture_codec.clear();
    make_clip(folder / "a", plan);
    const Heard whole = listen(folder / "a");
    Result<media::SoundReader> reader = media::SoundReader::open(folder / "a", 48000);
    REQUIRE(reader);
    for (const double to : {3.2, 0.0, 0.001, 1.0, 4.9, -3.0, 2.71828}) {
      CAPTURE(to);
      REQUIRE(reader->seek(at_seconds(to)));
      const Heard part = listen(*reader, 48000);
      REQUIRE_FALSE(part.samples.empty());
      const ClipTime wanted = std::max(at_seconds(to), whole.begin);
      CHECK(part.begin <= wanted);
      CHECK(wanted - part.begin < 500ms);
      CHECK(std::chrono::abs(part.end - whole.end) <= 1ms);
      // From the wanted time on the sound is the same. Samples need not be: AAC fills noise in at random.
      const auto skipped = static_cast<std::size_t>(to_seconds(wanted - part.begin) * 48000);
      const auto from_end = static_cast<std::ptrdiff_t>(part.samples.size() - skipped);
      const std::vector<float> tail(part.samples.end() - from_end, part.samples.end());
      const std::vector<float> truth(whole.samples.end() - from_end, whole.samples.end());
      CHECK(likeness(tail, truth, 0) > 0.95);
      CHECK(likeness(tail, truth, 0) > likeness(tail, truth, 1));
      CHECK(likeness(tail, truth, 0) > likeness(truth, tail, 1));
    }
    REQUIRE(reader->seek(at_seconds(60)));
    const Result<std::optional<SoundBlock>> beyond = reader->next();
    REQUIRE(beyond);
    CHECK_FALSE(beyond->has_value());
  }
}

TEST_CASE("channels are averaged, levels kept and absurd samples silenced") {
  const TempFolder folder;
  std::vector<float> samples;
  for (int i = 0; i < 1000; ++i) samples.insert(samples.end(), {0.5F, -0.25F});
  samples[400] = std::numeric_limits<float>::quiet_NaN();
  samples[600] = std::numeric_limits<float>::infinity();
  write_wav(folder / "a.wav", {3, 2, 48000, 32}, as_bytes(samples));
  const Heard heard = listen(folder / "a.wav");
  REQUIRE(heard.samples.size() == 1000);
  CHECK(heard.samples[10] == doctest::Approx(0.125));
  CHECK(heard.samples[200] == 0.0F);
  CHECK(heard.samples[300] == 0.0F);
}

TEST_CASE("eight and twenty-four bits are read at their levels") {
  const TempFolder folder;
  write_wav(folder / "8.wav", {1, 1, 8000, 8}, std::vector<std::uint8_t>(100, 192));
  CHECK(listen(folder / "8.wav", 8000).samples.at(50) == doctest::Approx(0.5));
  std::vector<std::uint8_t> deep;
  for (int i = 0; i < 100; ++i) deep.insert(deep.end(), {0, 0, 0xC0});
  write_wav(folder / "24.wav", {1, 1, 96000, 24}, deep);
  CHECK(listen(folder / "24.wav", 96000).samples.at(50) == doctest::Approx(-0.5));
}

TEST_CASE("a sound of one sample is one sample") {
  const TempFolder folder;
  write_wav(folder / "a.wav", {}, as_bytes(std::vector<std::int16_t>{16384}));
  const Heard heard = listen(folder / "a.wav");
  REQUIRE(heard.samples.size() == 1);
  CHECK(heard.samples[0] == doctest::Approx(0.5));
  CHECK(listen(folder / "a.wav", 16000).samples.size() == 1);
}

TEST_CASE("of a file full of pictures only the sound is read") {
  const TempFolder folder;
  const std::string small = (folder / "small.mp4").string();
  // About 30 Mbit/s of pictures, as a camera writes them, in the camera's chunks of half a second.
  ffmpeg({"-f",
          "lavfi",
          "-i",
          "testsrc2=s=640x360:r=30,noise=alls=60:allf=t",
          "-f",
          "lavfi",
          "-i",
          "anoisesrc=r=48000:a=0.2",
          "-t",
          "6",
          "-c:v",
          "libx264",
          "-preset",
          "ultrafast",
          "-b:v",
          "30M",
          "-g",
          "15",
          "-c:a",
          "aac",
          "-chunk_duration",
          "500000",
          small});
  Result<media::SoundReader> reader = media::SoundReader::open(small, 16000);
  REQUIRE(reader);
  const std::uint64_t to_open = reader->bytes_read();
  const Heard heard = listen(*reader, 16000);
  CHECK(heard.end >= at_seconds(5.9));
  const std::uint64_t size = std::filesystem::file_size(small);
  CAPTURE(size);
  CAPTURE(to_open);
  REQUIRE(size > 10'000'000);
  CHECK(reader->bytes_read() - to_open < size / 10);
}

TEST_CASE("a damaged middle is a gap, and what follows keeps its time") {
  const TempFolder folder;
  ClipPlan plan;
  plan.pictures = 240;
  plan.noise = true;
  plan.click_at = 6 * 48000;
  for (const auto& [container, sound] : {std::pair<std::string, std::string>{"mp4", "aac"},
                                         {"mpegts", "aac"},
                                         {"matroska", "aac"},
                                         {"avi", "pcm_s16le"}}) {
    CAPTURE(container);
    plan.container = container;
    plan.sound_codec = sound;
    make_clip(folder / "a", plan);
    std::vector<std::uint8_t> bytes = read_bytes(folder / "a");
    std::minstd_rand random{7};
    for (std::size_t i = bytes.size() * 40 / 100; i < bytes.size() * 48 / 100; ++i) {
      bytes[i] = static_cast<std::uint8_t>(random());
    }
    write_bytes(folder / "damaged", bytes);
    Result<media::SoundReader> reader = media::SoundReader::open(folder / "damaged", 48000);
    REQUIRE(reader);
    const Heard heard = listen(*reader, 48000);
    CHECK_FALSE(heard.gaps.empty());
    CHECK(std::chrono::abs(heard.end - at_seconds(8.0)) < 40ms);
    // The sound from 5 s on is that of the whole file, at the same place.
    REQUIRE(reader->seek(at_seconds(5)));
    const Heard rest = listen(*reader, 48000);
    CHECK(std::chrono::abs(rest.loudest - at_seconds(6.0)) < 600us);
  }
}

TEST_CASE("a file that breaks off is heard up to there and says so") {
  const TempFolder folder;
  ClipPlan plan;
  plan.pictures = 150;
  plan.noise = true;
  for (const std::string container : {"mpegts", "matroska", "avi"}) {
    CAPTURE(container);
    plan.container = container;
    plan.sound_codec = container == "avi" ? "pcm_s16le" : "aac";
    make_clip(folder / "whole", plan);
    Result<media::SoundReader> whole = media::SoundReader::open(folder / "whole", 16000);
    REQUIRE(whole);
    listen(*whole, 16000);
    CHECK_FALSE(whole->broke_off());
    CHECK(whole->damaged_packets() == 0);
    std::vector<std::uint8_t> bytes = read_bytes(folder / "whole");
    bytes.resize(bytes.size() / 2 + 1);
    write_bytes(folder / "half", bytes);
    Result<media::SoundReader> half = media::SoundReader::open(folder / "half", 16000);
    REQUIRE(half);
    const Heard heard = listen(*half, 16000);
    CHECK(half->broke_off());
    CHECK(heard.end > at_seconds(1.5));
    CHECK(heard.end < at_seconds(3.5));
  }
}

TEST_CASE("no sound, no file, no such rate are told apart") {
  const TempFolder folder;
  ClipPlan plan;
  plan.sound_codec.clear();
  make_clip(folder / "silent", plan);
  CHECK(media::SoundReader::open(folder / "silent", 16000).error().code() == Code::not_found);
  CHECK(media::SoundReader::open(folder / "none", 16000).error().code() == Code::not_found);
  CHECK(media::SoundReader::open(folder / "silent", 0).error().code() == Code::invalid);
  CHECK(media::SoundReader::open(folder / "silent", 1'000'000).error().code() == Code::invalid);
}

TEST_CASE("reading stops when it is asked to") {
  const TempFolder folder;
  make_clip(folder / "a", {});
  std::stop_source stop;
  Result<media::SoundReader> reader = media::SoundReader::open(folder / "a", 16000, stop.get_token());
  REQUIRE(reader);
  stop.request_stop();
  const auto next = reader->next();
  REQUIRE_FALSE(next.ok());
  CHECK(next.error().code() == Code::cancelled);
  CHECK(media::SoundReader::open(folder / "a", 16000, stop.get_token()).error().code() == Code::cancelled);
}
