#include "actions/recordings.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

constexpr Length noon = Length{1'773'486'000s};  // 2026-03-14T11:00:00Z

Footage file(const std::string& name, Length begin, Length length) {
  Footage footage;
  footage.path = "/card/" + name;
  footage.info.container = "mp4";
  footage.info.length = length;
  footage.info.picture = media::PictureInfo{"h264", 320, 180, 25, 1, 40ms, 0, ClipTime{length}};
  footage.info.sound = media::SoundInfo{"aac", 48000, 1, ClipTime{}, ClipTime{length}};
  footage.info.clocks = {{ClockSource::container, ClockKind::utc, ClockEdge::begin, begin, 1s, ""}};
  return footage;
}

bool always(const Footage&, const Footage&) { return true; }
bool never(const Footage&, const Footage&) { return false; }

using Groups = std::vector<std::vector<std::size_t>>;

}  // namespace

TEST_CASE("a file whose clock begins where the one before it ended is its next part") {
  const std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("c0008.mp4", noon + 600s, 600s),
                                  file("c0009.mp4", noon + 1200s, 90s)};
  CHECK(join_recordings(card, always) == Groups{{0, 1, 2}});
}

TEST_CASE("a clock that steps in whole seconds may be a second off and the parts still belong together") {
  const std::vector<Footage> card{file("a.mp4", noon, 600s + 400ms), file("b.mp4", noon + 601s, 60s)};
  CHECK(join_recordings(card, always) == Groups{{0, 1}});
}

TEST_CASE("a pause of three seconds makes two recordings") {
  const std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("c0008.mp4", noon + 603s, 600s)};
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

TEST_CASE("pictures that do not go on make two recordings whatever the clocks say") {
  const std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("c0008.mp4", noon + 600s, 600s)};
  CHECK(join_recordings(card, never) == Groups{{0}, {1}});
}

TEST_CASE("parts that all carry the stamp of the recording's start join by their numbers") {
  const std::vector<Footage> card{file("c0007_01.mp4", noon, 600s), file("c0007_02.mp4", noon, 600s),
                                  file("c0007_03.mp4", noon, 90s)};
  CHECK(join_recordings(card, always) == Groups{{0, 1, 2}});
}

TEST_CASE("the same stamp without consecutive numbers joins nothing") {
  const std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("x0042.mp4", noon, 600s)};
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

// Two recordings of a camera whose clock began anew at each start were taken for parts of one, since both bore the same
// stamp and a still camera sees the same. A factory date says nothing of what follows what.
TEST_CASE("the same factory date in consecutive numbers joins nothing") {
  using std::chrono::sys_days;
  const Length new_year = (sys_days{std::chrono::year{2016} / 1 / 1}).time_since_epoch();
  for (const Length time : {Length{9s}, Length{0s}, Length{12h + 75s}}) {
    const std::vector<Footage> card{file("c0007.mp4", new_year + time, 600s), file("c0008.mp4", new_year + time, 90s)};
    CHECK(join_recordings(card, always) == Groups{{0}, {1}});
  }
  for (const Length time : {Length{10h}, Length{24h + 9s}, Length{-60s}}) {
    const std::vector<Footage> card{file("c0007.mp4", new_year + time, 600s), file("c0008.mp4", new_year + time, 90s)};
    CHECK(join_recordings(card, always) == Groups{{0, 1}});
  }
  // A clock that goes on from there still tells what follows.
  const std::vector<Footage> card{file("c0007.mp4", new_year, 600s), file("c0008.mp4", new_year + 600s, 90s)};
  CHECK(join_recordings(card, always) == Groups{{0, 1}});
}

TEST_CASE("a device that stamps the end of each part is understood") {
  const std::vector<Footage> card{file("a.mp4", noon + 600s, 600s), file("b.mp4", noon + 690s, 90s)};
  CHECK(join_recordings(card, always) == Groups{{0, 1}});
}

TEST_CASE("a pause as long as the second file makes two recordings") {
  const std::vector<Footage> card{file("a.mp4", noon, 50s), file("b.mp4", noon + 110s, 110s)};
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

TEST_CASE("stamps known to mark ends are read as nothing else") {
  std::vector<Footage> card{file("a.mp4", noon, 50s), file("b.mp4", noon + 110s, 110s)};
  for (Footage& footage : card) footage.info.clocks.front().edge = ClockEdge::end;
  CHECK(join_recordings(card, always) == Groups{{0, 1}});
  card[1].info.clocks.front().since_epoch = noon + 50s;  // would follow if they were beginnings
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

TEST_CASE("files of another form never join") {
  std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("c0008.mp4", noon + 600s, 600s)};
  SUBCASE("another size of picture") { card[1].info.picture->width = 640; }
  SUBCASE("another sample rate") { card[1].info.sound->sample_rate_hz = 44100; }
  SUBCASE("no sound") { card[1].info.sound.reset(); }
  SUBCASE("another container") { card[1].info.container = "mov"; }
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

TEST_CASE("files without any clock are left apart for the sound to decide") {
  std::vector<Footage> card{file("c0007.mp4", noon, 600s), file("c0008.mp4", noon + 600s, 600s)};
  for (Footage& footage : card) footage.info.clocks.clear();
  CHECK(join_recordings(card, always) == Groups{{0}, {1}});
}

TEST_CASE("file times of copied files, all alike, say nothing") {
  media::MediaInfo a = file("a", noon, 600s).info;
  media::MediaInfo b = file("b", noon, 600s).info;
  a.clocks = {{ClockSource::file_time, ClockKind::utc, ClockEdge::end, noon, 2s, ""}};
  b.clocks = {{ClockSource::file_time, ClockKind::utc, ClockEdge::end, noon + 4s, 2s, ""}};
  CHECK(clocks_follow(a, b) == Follows::unknown);
  b.clocks.front().since_epoch = noon + 600s;
  CHECK(clocks_follow(a, b) == Follows::yes);
  b.clocks.front().since_epoch = noon + 700s;
  CHECK(clocks_follow(a, b) == Follows::no);
}

TEST_CASE("a timecode that passes midnight goes on") {
  media::MediaInfo a = file("a", noon, 600s).info;
  media::MediaInfo b = a;
  a.clocks = {{ClockSource::timecode, ClockKind::time_of_day, ClockEdge::begin, 23h + 55min, 40ms, ""}};
  b.clocks = {{ClockSource::timecode, ClockKind::time_of_day, ClockEdge::begin, 5min, 40ms, ""}};
  CHECK(clocks_follow(a, b) == Follows::yes);
}

TEST_CASE("numbers follow when exactly one of them is one higher") {
  CHECK(numbers_follow("c0009", "c0010"));
  CHECK(numbers_follow("AB010042", "AB020042") == false);  // one run of digits, ten thousand apart
  CHECK(numbers_follow("AB01-0042", "AB02-0042"));
  CHECK(numbers_follow("clip a", "clip b"));
  CHECK_FALSE(numbers_follow("c0009", "c0011"));
  CHECK_FALSE(numbers_follow("c0009", "c0009"));
  CHECK_FALSE(numbers_follow("c1-1", "c2-2"));
  CHECK_FALSE(numbers_follow("c9", "d9"));
  CHECK_FALSE(numbers_follow("99999999999999999999", "100000000000000000000"));
}
