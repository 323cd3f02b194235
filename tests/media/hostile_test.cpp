// Files that are not what they should be: what opening says, and what reading to the end gives.
#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "media/listening.h"
#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;

namespace {

using Bytes = std::vector<std::uint8_t>;

Bytes text_bytes(const std::string& text) { return {text.begin(), text.end()}; }

Bytes clip_bytes(const TempFolder& folder, const std::string& container, const std::string& sound = "aac") {
  ClipPlan plan;
  plan.container = container;
  plan.sound_codec = sound;
  plan.noise = true;
  plan.pictures = 90;
  if (container == "wav") plan.picture_codec.clear();
  make_clip(folder / "made", plan);
  return read_bytes(folder / "made");
}

Bytes first_part(Bytes bytes, double share) {
  bytes.resize(static_cast<std::size_t>(static_cast<double>(bytes.size()) * share) | 1U);
  return bytes;
}

Bytes noise(std::size_t size) {
  std::minstd_rand random{5};
  Bytes bytes(size);
  for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(random() >> 8);
  return bytes;
}

/// With the four bytes of a box's type replaced by others.
Bytes renamed(Bytes bytes, const std::string& type, const std::string& other) {
  for (auto at = bytes.begin(); (at = std::search(at, bytes.end(), type.begin(), type.end())) != bytes.end(); ++at) {
    std::copy(other.begin(), other.end(), at);
  }
  return bytes;
}

struct Refused {
  const char* name;
  Bytes bytes;
  Code code;
  const char* says;
};

void check_refused(const TempFolder& folder, const Refused& file) {
  CAPTURE(file.name);
  const std::filesystem::path path = folder / file.name;
  write_bytes(path, file.bytes);
  const Result<media::MediaInfo> info = media::probe(path);
  REQUIRE_FALSE(info.ok());
  CHECK(info.error().code() == file.code);
  CHECK(info.error().message().find(file.says) != std::string::npos);
  CHECK(info.error().message().find(file.name) != std::string::npos);
  CHECK_FALSE(media::SoundReader::open(path, 16000).ok());
  CHECK_FALSE(media::PictureReader::open(path).ok());
}

/// Reads everything; true when it came to an end without an error. Whatever comes out is finite and in order.
bool reads_to_the_end(const std::filesystem::path& path) {
  bool clean = true;
  if (Result<media::SoundReader> reader = media::SoundReader::open(path, 16000)) {
    try {
      const std::vector<float> samples = listen(*reader, 16000).samples;
      CHECK(std::all_of(samples.begin(), samples.end(), [](float sample) { return std::isfinite(sample); }));
    } catch (const std::runtime_error&) {
      clean = false;
    }
  }
  if (media::PictureReader::open(path).ok()) {
    const Seen seen = look(path);
    CHECK(std::is_sorted(seen.times.begin(), seen.times.end()));
  }
  return clean;
}

}  // namespace

TEST_CASE("files that are no recordings are refused with what to do next") {
  const TempFolder folder;
  const Bytes mp4 = clip_bytes(folder, "mp4");
  const Bytes mov = clip_bytes(folder, "mov", "pcm_s16le");
  const std::vector<Refused> table = {
      {"empty.mp4", {}, Code::unreadable, "is empty"},
      {"one_byte.mp4", {0x47}, Code::unsupported, "no recording"},
      {"text.mp4", text_bytes("Rivets set today: 42. Nothing else to see here.\n"), Code::unsupported, "no recording"},
      {"long_text.mp4", text_bytes(std::string(300000, 'x')), Code::unsupported, "no recording"},
      {"blank.mp4", Bytes(300000, 0), Code::unreadable, "only zeros"},
      {"noise.mp4", noise(300000), Code::unsupported, "no recording"},
      {"no_index.mp4", first_part(mp4, 0.6), Code::unreadable, "was cut off before the camera could finish"},
      {"no_index.mov", first_part(mov, 0.6), Code::unreadable, "was cut off before the camera could finish"},
      {"head_only.mp4", Bytes(mp4.begin(), mp4.begin() + 40), Code::unreadable, "Copy it again"},
      {"no_tracks.mp4", renamed(mp4, "trak", "free"), Code::unsupported, "neither sound nor moving pictures"},
      {"picture.jpg", media::to_jpeg(Picture::blank(64, 64)).value(), Code::unsupported, "no recording"},
      {"playlist.m3u8", text_bytes("#EXTM3U\n#EXT-X-TARGETDURATION:10\n#EXTINF:10,\n/etc/passwd\n#EXT-X-ENDLIST\n"),
       Code::unsupported, "no recording"},
      {"concat.txt", text_bytes("ffconcat version 1.0\nfile /etc/passwd\n"), Code::unsupported, "no recording"},
      {"titles.srt", text_bytes("1\n00:00:01,000 --> 00:00:02,000\nHello\n"), Code::unsupported, "no recording"},
  };
  for (const Refused& file : table) check_refused(folder, file);
}

TEST_CASE("what is not there, not a file or not ours to read is told apart") {
  const TempFolder folder;
  const Error missing = media::probe(folder / "missing.mp4").error();
  CHECK(missing.code() == Code::not_found);
  CHECK(missing.message().find("missing.mp4") != std::string::npos);
  CHECK(media::probe(folder.path()).error().code() == Code::unsupported);
  CHECK(media::probe("/dev/null").error().code() == Code::unsupported);
  write_bytes(folder / "locked.mp4", clip_bytes(folder, "mp4"));
  std::filesystem::permissions(folder / "locked.mp4", std::filesystem::perms::none);
  // The administrator may read everything; error_test checks what others are told.
  const Result<media::MediaInfo> locked = media::probe(folder / "locked.mp4");
  CHECK(locked.ok() == (geteuid() == 0));
  if (!locked) CHECK(locked.error().code() == Code::denied);
}

TEST_CASE("names that mean something to libav are only names") {
  const TempFolder folder;
  const Bytes mp4 = clip_bytes(folder, "mp4");
  for (const std::string name :
       {"http:x.mp4", "file:a.mp4", "pipe:0", "concat:a|b", "%03d.mp4", "-i.mp4", "a b'\"c.mp4", "\xff\xfe.mp4"}) {
    CAPTURE(name);
    write_bytes(folder / name, mp4);
    CHECK(media::probe(folder / name).ok());
  }
}

TEST_CASE("files that break off are read up to there and carry a note") {
  const TempFolder folder;
  const Bytes mp4 = clip_bytes(folder, "mp4");
  write_bytes(folder / "whole.mp4", mp4);
  ffmpeg({"-i", (folder / "whole.mp4").string(), "-c", "copy", "-movflags", "+faststart", (folder / "f.mp4").string()});
  ffmpeg({"-i", (folder / "whole.mp4").string(), "-c", "copy", "-movflags", "frag_keyframe+empty_moov",
          (folder / "g.mp4").string()});
  // To a pipe Matroska cannot write its closing parts: as when a camera loses power.
  write_bytes(folder / "live.mkv", text_bytes(run({"ffmpeg", "-v", "error", "-i", (folder / "whole.mp4").string(), "-c",
                                                   "copy", "-f", "matroska", "-"})));
  struct Broken {
    const char* name;
    Bytes bytes;
    const char* note;
  };
  const std::vector<Broken> table = {
      {"half.ts", first_part(clip_bytes(folder, "mpegts"), 0.5), "middle of a packet"},
      {"half.mkv", first_part(clip_bytes(folder, "matroska"), 0.5), "breaks off"},
      {"half.avi", first_part(clip_bytes(folder, "avi", "pcm_s16le"), 0.5), "breaks off"},
      {"half.wav", first_part(clip_bytes(folder, "wav", "pcm_s16le"), 0.5), "breaks off"},
      {"index_first.mp4", first_part(read_bytes(folder / "f.mp4"), 0.5), "breaks off"},
      {"fragments.mp4", first_part(read_bytes(folder / "g.mp4"), 0.5), "breaks off"},
      {"live_half.mkv", first_part(read_bytes(folder / "live.mkv"), 0.5), "did not finish"},
  };
  for (const Broken& file : table) {
    CAPTURE(file.name);
    write_bytes(folder / file.name, file.bytes);
    const Result<media::MediaInfo> info = media::probe(folder / file.name);
    REQUIRE(info);
    REQUIRE(info->notes.size() == 1);
    CHECK(info->notes[0].find(file.note) != std::string::npos);
    CHECK(to_seconds(info->length) > 0.5);
    CHECK(to_seconds(info->length) < 2.5);
    CHECK(reads_to_the_end(folder / file.name));
    Result<media::SoundReader> reader = media::SoundReader::open(folder / file.name, 16000);
    REQUIRE(reader);
    const Heard heard = listen(*reader, 16000);
    CHECK(reader->broke_off());
    CHECK(std::abs(to_seconds(heard.end) - to_seconds(info->sound->end)) < 0.05);
  }
  CHECK(media::probe(folder / "live.mkv")->notes.size() == 1);
  CHECK(media::probe(folder / "whole.mp4")->notes.empty());
}

TEST_CASE("a stream that cannot be decoded leaves the other one usable") {
  const TempFolder folder;
  // The four letters of the picture's kind are changed to one that nobody knows.
  write_bytes(folder / "a.mp4", renamed(clip_bytes(folder, "mp4"), "avc1", "zzz1"));
  const Result<media::MediaInfo> info = media::probe(folder / "a.mp4");
  REQUIRE(info);
  REQUIRE(info->sound);
  CHECK(info->notes.size() == 1);
  CHECK(listen(folder / "a.mp4").end > at_seconds(2.9));
  CHECK(media::PictureReader::open(folder / "a.mp4").error().code() == Code::unsupported);
}

TEST_CASE("sound that a transport stream announces and never sends is no sound") {
  const TempFolder folder;
  const Bytes whole = clip_bytes(folder, "mpegts");
  Bytes silent;
  for (std::size_t at = 0; at + 188 <= whole.size(); at += 188) {
    // ffmpeg puts the first stream, the pictures, at number 0x100 and the sound at 0x101.
    const int number = (whole[at + 1] & 0x1F) << 8 | whole[at + 2];
    if (number != 0x101)
      silent.insert(silent.end(), whole.begin() + static_cast<std::ptrdiff_t>(at),
                    whole.begin() + static_cast<std::ptrdiff_t>(at + 188));
  }
  write_bytes(folder / "silent.ts", silent);
  const Result<media::MediaInfo> info = media::probe(folder / "silent.ts");
  REQUIRE(info);
  CHECK(info->picture);
  CHECK_FALSE(info->sound);
  CHECK(std::abs(to_seconds(info->length) - 3.0) < 0.001);
  CHECK(reads_to_the_end(folder / "silent.ts"));
}

TEST_CASE("flipped bytes anywhere never crash, hang or leave the order of time") {
  const TempFolder folder;
  std::minstd_rand random{11};
  for (const auto& [container, sound] : {std::pair<std::string, std::string>{"mp4", "aac"},
                                         {"mov", "pcm_s16le"},
                                         {"mpegts", "aac"},
                                         {"matroska", "libopus"},
                                         {"avi", "libmp3lame"},
                                         {"wav", "pcm_s16le"}}) {
    const Bytes good = clip_bytes(folder, container, sound);
    for (int round = 0; round < 8; ++round) {
      CAPTURE(container);
      CAPTURE(round);
      Bytes bad = good;
      // Half of the rounds hurt the head and the tail, where the structure is.
      for (int i = 0; i < 60; ++i) {
        const std::size_t at = random() % bad.size();
        const std::size_t where = round % 2 == 0 ? at : i % 2 == 0 ? at % 2000 : bad.size() - 1 - at % 4000;
        bad[where % bad.size()] = static_cast<std::uint8_t>(random() >> 5);
      }
      write_bytes(folder / "bad", bad);
      const Result<media::MediaInfo> info = media::probe(folder / "bad");
      if (!info) CHECK_FALSE(info.error().message().empty());
      reads_to_the_end(folder / "bad");
    }
  }
}
