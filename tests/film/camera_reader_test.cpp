#include "film/camera_reader.h"

#include <doctest/doctest.h>

#include <fstream>

#include "support/clip_maker.h"
#include "support/picture_clock.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace std::chrono_literals;

namespace {

constexpr SessionTime at(Length since_zero) { return SessionTime{since_zero}; }

/// One camera: pictures 0 to 99 of 40 ms in two files from 10 s on, off for 2 s, then 100 to 149.
struct Shop {
  test::TempFolder folder;
  film::Camera camera{"bench", {}};

  Shop() {
    test::MarkedPlan plan;
    plan.pictures = 50;
    test::make_marked_clip(folder / "a1.mov", plan);
    plan.first_number = 50;
    test::make_marked_clip(folder / "a2.mov", plan);
    plan.first_number = 100;
    test::make_marked_clip(folder / "b.mov", plan);
    film::Clip whole = test::placed_clip(folder / "a1.mov", plan, at(10s), 40'000);
    whole.parts.push_back({folder / "a2.mov", {}, {}, ClipTime{2s}, 2s});
    whole.pieces.front().clip_to = ClipTime{4s};
    camera.clips = {whole, test::placed_clip(folder / "b.mov", plan, at(16s))};
  }
  film::CameraReader reader(int most_width = 0) { return {camera, {most_width, true, 1}}; }
};

int number(const film::Seen& seen) {
  REQUIRE(seen.shows == film::Shows::picture);
  const auto marking = test::read_marking(seen.picture);
  REQUIRE(marking);
  return marking->number;
}

int number_at(film::CameraReader& reader, Length t) {
  const auto seen = reader.at(at(t));
  REQUIRE(seen);
  return number(*seen);
}

}  // namespace

TEST_CASE("the picture on show is the one whose time it is, whatever was asked before") {
  Shop shop;
  auto reader = shop.reader();
  CHECK(number_at(reader, 10s) == 0);
  CHECK(number_at(reader, 13s) == 74);  // the session clock runs 40 ppm faster: 2.99988 s of the clip
  CHECK(number_at(reader, 13s + 1ms) == 75);
  CHECK(number_at(reader, 11s) == 24);
  CHECK(number_at(reader, 16s + 500ms) == 112);
  CHECK(number_at(reader, 12s + 1ms) == 50);
  CHECK(number_at(reader, 10s + 39ms) == 0);
  CHECK(number_at(reader, 10s + 41ms) == 1);
}

TEST_CASE("a picture's beginning leads back to the same picture") {
  Shop shop;
  auto reader = shop.reader();
  for (int i = 0; i < 100; i += 7) {
    const auto seen = reader.at(at(10s + i * 40ms + 20ms));
    REQUIRE(seen);
    REQUIRE(number(*seen) == i);
    const auto again = reader.at(seen->begins);
    REQUIRE(again);
    CHECK(number(*again) == i);
    CHECK(again->begins == seen->begins);
  }
}

TEST_CASE("going on shows every picture once, over files and times without pictures") {
  Shop shop;
  auto reader = shop.reader();
  std::vector<int> numbers;
  int off = 0;
  SessionTime last = SessionTime::min();
  while (true) {
    const auto seen = reader.next();
    REQUIRE(seen);
    if (!*seen) break;
    CHECK((*seen)->begins > last);
    last = (*seen)->begins;
    if ((*seen)->shows == film::Shows::off) {
      ++off;
    } else {
      numbers.push_back(number(**seen));
    }
  }
  REQUIRE(numbers.size() == 150);
  for (int i = 0; i < 150; ++i) CHECK(numbers[static_cast<std::size_t>(i)] == i);
  CHECK(off == 2);  // in between, and after the end
}

TEST_CASE("a camera that is off says since when and until when") {
  Shop shop;
  auto reader = shop.reader();
  const auto between = reader.at(at(15s));
  REQUIRE(between);
  CHECK(between->shows == film::Shows::off);
  CHECK(between->off.since == at(14s + 160us));
  CHECK(between->off.until == at(16s));
  const auto before = reader.at(at(1s));
  REQUIRE(before);
  CHECK(!before->off.since);
  CHECK(before->off.until == at(10s));
  const auto after = reader.at(at(20s));
  REQUIRE(after);
  CHECK(!after->off.until);
}

TEST_CASE("steps count pictures in both directions, also over the time the camera was off") {
  Shop shop;
  auto reader = shop.reader();
  const auto step = [&](Length from, int pictures) {
    const auto seen = reader.picture_from(at(from), pictures);
    REQUIRE(seen);
    return *seen ? number(**seen) : -1;
  };
  CHECK(step(10s + 20ms, 1) == 1);
  CHECK(step(10s + 100ms, -1) == 1);
  CHECK(step(10s + 100ms, -30) == 0);  // as far as there are any
  CHECK(step(10s + 20ms, -1) == -1);   // none
  CHECK(step(12s + 20ms, -1) == 49);   // over the files' border
  CHECK(step(11s + 970ms, 2) == 51);
  CHECK(step(13s + 990ms, 1) == 100);  // over the dropout
  CHECK(step(16s + 10ms, -1) == 99);
  CHECK(step(15s, 1) == 100);
  CHECK(step(15s, -1) == 99);
  CHECK(step(17s + 990ms, 1) == -1);
}

TEST_CASE("a lost file is said to be lost, and the files around it go on") {
  Shop shop;
  std::filesystem::remove(shop.folder / "a2.mov");
  auto reader = shop.reader();
  CHECK(number_at(reader, 11s) == 24);
  const auto lost = reader.at(at(13s));
  REQUIRE(lost);
  CHECK(lost->shows == film::Shows::unreadable);
  CHECK(lost->words.find("a2.mov") != std::string::npos);
  CHECK(number_at(reader, 16s + 20ms) == 100);
}

TEST_CASE("another file in the place of the right one is refused") {
  Shop shop;
  shop.camera.clips[1].parts[0].identity = FileIdentity{12, {}};
  auto reader = shop.reader();
  const auto seen = reader.at(at(16s));
  REQUIRE(seen);
  CHECK(seen->shows == film::Shows::unreadable);
  CHECK(seen->words.find("another file") != std::string::npos);
}

TEST_CASE("a small copy that is no film is left for its source, and named") {
  Shop shop;
  const auto copy = shop.folder / "copy.mp4";
  std::ofstream{copy} << "no film";
  shop.camera.clips[1].parts[0].copy = copy;
  auto reader = shop.reader();
  CHECK(number_at(reader, 16s + 500ms) == 112);
  REQUIRE(reader.bad_copies().size() == 1);
  CHECK(reader.bad_copies().front() == copy);
}

TEST_CASE("a small copy with damage in its pictures is left for its source, in the middle of going on") {
  Shop shop;
  const auto copy = shop.folder / "copy.mov";
  auto bytes = test::read_bytes(shop.folder / "b.mov");
  // Somewhere in the pictures' data: far behind the first picture, in front of the index at the end.
  for (std::size_t i = bytes.size() / 2; i < bytes.size() / 2 + 30'000 && i < bytes.size(); i += 3) bytes[i] ^= 0x5AU;
  test::write_bytes(copy, bytes);
  shop.camera.clips[1].parts[0].copy = copy;
  auto reader = shop.reader();
  CHECK(number_at(reader, 16s) == 100);
  for (int i = 101; i < 150; ++i) {
    const auto seen = reader.next();
    REQUIRE(seen);
    REQUIRE(*seen);
    CHECK(number(**seen) == i);
  }
  CHECK(reader.bad_copies().size() == 1);
}

TEST_CASE("footage that was given up and clips without pictures say so") {
  Shop shop;
  shop.camera.clips[0].gone = "a1.mov was let go.";
  shop.camera.clips[1].has_pictures = false;
  auto reader = shop.reader();
  const auto gone = reader.at(at(11s));
  REQUIRE(gone);
  CHECK(gone->shows == film::Shows::gone);
  CHECK(gone->words == "a1.mov was let go.");
  const auto heard = reader.at(at(17s));
  REQUIRE(heard);
  CHECK(heard->shows == film::Shows::sound_only);
}

TEST_CASE("a picture nobody wants any more is given up, and the reader can be asked again") {
  Shop shop;
  auto reader = shop.reader();
  bool unwanted = true;
  reader.set_give_up([&] { return unwanted; });
  const auto seen = reader.at(at(13s));
  REQUIRE(!seen);
  CHECK(seen.error().code() == Code::cancelled);
  unwanted = false;
  CHECK(number_at(reader, 10s + 500ms) == 12);
  CHECK(number_at(reader, 13s + 1ms) == 75);
}

TEST_CASE("pictures come in the width that was asked for last, never larger than they are") {
  Shop shop;
  auto reader = shop.reader(160);
  auto seen = reader.at(at(10s));
  REQUIRE(seen);
  CHECK(seen->picture.width == 160);
  CHECK(seen->picture.height == 90);
  CHECK(number(*seen) == 0);
  reader.set_most_width(1000);
  seen = reader.at(at(10s + 50ms));
  REQUIRE(seen);
  CHECK(seen->picture.width == 320);
}
