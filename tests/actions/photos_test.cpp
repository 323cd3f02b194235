#include "actions/photos.h"

#include <doctest/doctest.h>

#include <fstream>

#include "actions/desk.h"
#include "actions/sealing.h"
#include "actions/whole_file.h"
#include "support/exif_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

const WallTime zero = std::chrono::sys_days{std::chrono::year{2026} / 3 / 14} + 9h;

/// A session whose clock begins at 09:00 in Lisbon, which is UTC then.
struct Shop : Desk {
  Shop() {
    REQUIRE(store.edit("tell the time", [&](store::Edit& edit) -> Done {
      journal::Session told = *store.session(std::chrono::year{2026} / 3 / 14);
      told.zero = zero;
      return edit.update(told);
    }));
  }
  std::vector<journal::Photo> photos() { return store.record(session)->photos; }
};

void write_photo(const std::filesystem::path& path, const std::string& taken, const std::string& model = "Shop 2") {
  const auto bytes = with_exif({"Acme", model, taken, "", "+00:00"}, bare_jpeg);
  REQUIRE(write_whole(path, bytes));
}

bool any_contains(const std::vector<std::string>& texts, std::string_view part) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& text) { return text.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("photos of the session are placed, those of other days and what is no picture are left where they are") {
  Shop shop;
  const TempFolder card;
  write_photo(card / "a.jpg", "2026:03:14 09:30:12");
  write_photo(card / "b.jpg", "2026:03:13 09:30:12");
  std::ofstream{card / "index.txt"} << "contents\n";
  const auto before = read_whole(card / "a.jpg");
  const auto written = std::filesystem::last_write_time(card / "a.jpg");
  const auto report = add_photos(shop.store, shop.session, {{"phone", card.path()}}, {});
  REQUIRE_MESSAGE(report.ok(), (report.ok() ? std::string{} : report.error().message()));
  REQUIRE(report->added.size() == 1);
  CHECK(report->other_day == 1);
  CHECK(report->left_out == 1);
  CHECK(any_contains(report->notes, "Nothing was heard that tells how right the clock"));
  const auto photos = shop.photos();
  REQUIRE(photos.size() == 1);
  CHECK(photos[0].at == SessionTime{30min + 12s + 500ms});
  CHECK(photos[0].sigma == 5min);
  CHECK(photos[0].identity.size_bytes == before->size());
  CHECK(read_whole(card / "a.jpg") == before);
  CHECK(std::filesystem::last_write_time(card / "a.jpg") == written);
}

TEST_CASE("a photo is added once, copies with it, and followed when it has moved") {
  Shop shop;
  const TempFolder card;
  write_photo(card / "a.jpg", "2026:03:14 09:30:12");
  std::filesystem::copy(card / "a.jpg", card / "copy.jpg");
  CHECK(add_photos(shop.store, shop.session, {{"phone", card.path()}}, {})->added.size() == 1);
  const auto again = add_photos(shop.store, shop.session, {{"phone", card.path()}}, {});
  CHECK(again->added.empty());
  CHECK(again->known_already == 1);
  std::filesystem::remove(card / "copy.jpg");
  std::filesystem::rename(card / "a.jpg", card / "moved.jpg");
  const auto moved = add_photos(shop.store, shop.session, {{"phone", card / "moved.jpg"}}, {});
  CHECK(moved->relinked == 1);
  CHECK(shop.photos().at(0).path == card / "moved.jpg");
}

TEST_CASE("photos are placed anew when the session's clock has been told better") {
  Shop shop;
  const TempFolder card;
  write_photo(card / "a.jpg", "2026:03:14 09:30:12");
  REQUIRE(add_photos(shop.store, shop.session, {{"phone", card.path()}}, {}));
  REQUIRE(shop.store.edit("tell the time", [&](store::Edit& edit) -> Done {
    journal::Session told = shop.store.record(shop.session)->session;
    told.zero = zero - 10min;
    return edit.update(told);
  }));
  CHECK(add_photos(shop.store, shop.session, {{"phone", card.path()}}, {})->placed_anew == 1);
  CHECK(shop.photos().at(0).at == SessionTime{40min + 12s + 500ms});
}

TEST_CASE("a photo without a date is added without a moment and said") {
  Shop shop;
  const TempFolder card;
  write_photo(card / "a.jpg", "");
  const auto report = add_photos(shop.store, shop.session, {{"phone", card.path()}}, {});
  REQUIRE(report->added.size() == 1);
  CHECK_FALSE(report->added[0].at);
  CHECK(any_contains(report->notes, "a.jpg does not say when it was taken"));
  CHECK_FALSE(shop.photos().at(0).at);
}

TEST_CASE("a photo without a date is placed by its file's time with a quarter of an hour's doubt, and that is said") {
  Shop shop;
  const TempFolder card;
  REQUIRE(write_whole(card / "a.png", exif_png({"", "", "", "", ""})));
  std::filesystem::last_write_time(card / "a.png", std::chrono::file_clock::from_sys(zero + 20min));
  const auto report = add_photos(shop.store, shop.session, {{"phone", card.path()}}, {});
  REQUIRE(report->added.size() == 1);
  CHECK(report->added[0].at == SessionTime{20min + 1s});
  CHECK(report->added[0].sigma == 15min);
  CHECK(any_contains(report->notes, "placed by their file's time, which may be that of a copy"));
  CHECK(add_photos(shop.store, shop.session, {{"phone", card.path()}}, {})->known_already == 1);
}

TEST_CASE("HEIC and TIFF are placed by what they say, and a film among them is left out") {
  Shop shop;
  const TempFolder card;
  REQUIRE(write_whole(card / "a.heic", exif_heic({"Acme", "Shop 2", "2026:03:14 09:30:12", "", "+00:00"})));
  REQUIRE(write_whole(card / "b.tif", exif_tiff({"Acme", "Shop 2", "2026:03:14 09:40:12", "", "+00:00"})));
  std::ofstream{card / "c.mp4"} << std::string{
      "\0\0\0\x18"
      "ftypisom\0\0\0\0isommp42",
      24};
  const auto report = add_photos(shop.store, shop.session, {{"phone", card.path()}}, {});
  REQUIRE(report->added.size() == 2);
  CHECK(report->left_out == 1);
  CHECK(shop.photos().at(0).at == SessionTime{30min + 12s + 500ms});
  CHECK(shop.photos().at(1).at == SessionTime{40min + 12s + 500ms});
}

TEST_CASE("what cannot be done leaves the journal as it was") {
  Shop shop;
  const TempFolder card;
  write_photo(card / "a.jpg", "2026:03:14 09:30:12");
  CHECK(add_photos(shop.store, shop.session, {{" ", card.path()}}, {}).error().code() == Code::invalid);
  CHECK(add_photos(shop.store, shop.session, {{"phone", card / "none"}}, {}).error().code() == Code::not_found);
  std::stop_source stop;
  stop.request_stop();
  Watch watch;
  watch.stop = stop.get_token();
  CHECK(add_photos(shop.store, shop.session, {{"phone", card.path()}}, watch).error().code() == Code::cancelled);
  CHECK(shop.photos().empty());
  REQUIRE(seal_session(shop.store, shop.session, zero + 24h));
  CHECK(add_photos(shop.store, shop.session, {{"phone", card.path()}}, {}).error().code() == Code::conflict);
}
