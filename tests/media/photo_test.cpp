#include "media/photo.h"

#include <doctest/doctest.h>

#include <cstdio>
#include <fstream>

#include "media/picture_reader.h"
#include "support/exif_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::media;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

const Length morning = std::chrono::sys_days{std::chrono::year{2026} / 3 / 14}.time_since_epoch() + 9h + 30min + 12s;

void write(const std::filesystem::path& path, const std::vector<std::uint8_t>& bytes) {
  std::ofstream file{path, std::ios::binary};
  // NOLINTNEXTLINE: bytes as characters.
  file.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
}

/// What exiftool prints for a tag; nothing where it is not installed.
std::optional<std::string> said_by_exiftool(const std::filesystem::path& path, const char* tag) {
  const std::string command = "exiftool -s3 -" + std::string{tag} + " '" + path.string() + "' 2>/dev/null";
  FILE* pipe = popen(command.c_str(), "r");  // NOLINT: the outside reader
  if (pipe == nullptr) return std::nullopt;
  std::string text;
  char buffer[256];
  while (std::fgets(buffer, sizeof buffer, pipe) != nullptr) text += buffer;
  if (pclose(pipe) != 0) return std::nullopt;
  while (!text.empty() && text.back() == '\n') text.pop_back();
  return text;
}

std::vector<std::uint8_t> real_picture() {
  Picture picture;
  picture.width = 16;
  picture.height = 8;
  picture.rgba.assign(16 * 8 * 4, 0x80);
  return *to_jpeg(picture);
}

/// Red, green, blue and white quarters, behind an EXIF head that holds Orientation alone (EXIF 2.31, 4.6).
std::vector<std::uint8_t> quarters(int orientation) {
  Picture picture = Picture::blank(64, 32);
  for (int y = 0; y < 32; ++y) {
    for (int x = 0; x < 64; ++x) {
      const auto at = static_cast<std::size_t>(y * 64 + x) * 4;
      picture.rgba[at] = (x < 32) == (y < 16) ? 255 : 0;
      picture.rgba[at + 1] = x >= 32 ? 255 : 0;
      picture.rgba[at + 2] = y >= 16 ? 255 : 0;
    }
  }
  const std::vector<std::uint8_t> jpeg = *to_jpeg(picture);
  const auto value = static_cast<std::uint8_t>(orientation);
  std::vector<std::uint8_t> bytes{0xFF, 0xD8, 0xFF, 0xE1, 0, 34,    'E', 'x', 'i', 'f', 0,    0, 'M',
                                  'M',  0,    42,   0,    0, 0,     8,   0,   1,   1,   0x12, 0, 3,
                                  0,    0,    0,    1,    0, value, 0,   0,   0,   0,   0,    0};
  bytes.insert(bytes.end(), jpeg.begin() + 2, jpeg.end());
  return bytes;
}

/// 'r', 'g', 'b' or 'w' of the quarter around that place.
char colour_at(const Picture& picture, int x, int y) {
  const auto at = static_cast<std::size_t>(y * picture.width + x) * 4;
  const bool red = picture.rgba[at] > 128;
  const bool green = picture.rgba[at + 1] > 128;
  const bool blue = picture.rgba[at + 2] > 128;
  return red && green && blue ? 'w' : red ? 'r' : green ? 'g' : blue ? 'b' : '?';
}

/// The four quarters, from the top left as one reads.
std::string seen(const Picture& picture) {
  const int w = picture.width;
  const int h = picture.height;
  return {colour_at(picture, w / 4, h / 4), colour_at(picture, w * 3 / 4, h / 4), colour_at(picture, w / 4, h * 3 / 4),
          colour_at(picture, w * 3 / 4, h * 3 / 4)};
}

}  // namespace

TEST_CASE("a photo's date, fraction and device are read in both byte orders") {
  for (const ByteOrder order : {ByteOrder::little, ByteOrder::big}) {
    const auto info = read_photo_head(with_exif({"Acme", "Shop 2", "2026:03:14 09:30:12", "25", ""}, bare_jpeg, order));
    REQUIRE(info);
    CHECK(info->device == "Acme Shop 2");
    REQUIRE(info->taken);
    CHECK(info->taken->kind == ClockKind::local);
    CHECK(info->taken->since_epoch == morning + 250ms);
    CHECK(info->taken->resolution == 10ms);
    CHECK(info->taken->source == ClockSource::container);
  }
}

TEST_CASE("a photo that names its offset tells universal time") {
  const auto info = read_photo_head(with_exif({"", "", "2026:03:14 09:30:12", "", "-05:00"}, bare_jpeg));
  REQUIRE(info->taken);
  CHECK(info->taken->kind == ClockKind::utc);
  CHECK(info->taken->since_epoch == morning + 5h);
  CHECK(info->taken->resolution == 1s);
}

TEST_CASE("a maker that stands in the model's name is not said twice") {
  CHECK(read_photo_head(with_exif({"Acme", "Acme Shop", "", "", ""}, bare_jpeg))->device == "Acme Shop");
  CHECK(read_photo_head(with_exif({"Acme", "", "", "", ""}, bare_jpeg))->device == "Acme");
}

TEST_CASE("the heads these tests write say the same to exiftool, and the picture behind them is whole") {
  const TempFolder folder;
  const auto path = folder / "a.jpg";
  for (const ByteOrder order : {ByteOrder::little, ByteOrder::big}) {
    write(path, with_exif({"Acme", "Shop 2", "2026:03:14 09:30:12", "25", "+01:00"}, real_picture(), order));
    const auto said = said_by_exiftool(path, "DateTimeOriginal");
    if (!said) {
      MESSAGE("exiftool is not here");
      return;
    }
    CHECK(*said == "2026:03:14 09:30:12");
    CHECK(*said_by_exiftool(path, "SubSecTimeOriginal") == "25");
    CHECK(*said_by_exiftool(path, "OffsetTimeOriginal") == "+01:00");
    CHECK(*said_by_exiftool(path, "Model") == "Shop 2");
    CHECK(*said_by_exiftool(path, "ImageWidth") == "16");
    CHECK(*said_by_exiftool(path, "Warning") == "");
  }
}

TEST_CASE("a date that cannot be is no date, and a bad fraction or offset is left out") {
  for (const char* date : {"0000:00:00 00:00:00", "2026:02:30 09:30:12", "2026:03:14 24:00:00", "1970:01:01 00:00:00",
                           "2096:03:14 09:30:12", "2026-03-14 09:30:12", "    :  :     :  :  ", "2026:03:14", "soon"}) {
    CAPTURE(date);
    CHECK_FALSE(read_photo_head(with_exif({"", "", date, "", ""}, bare_jpeg))->taken);
  }
  const auto fraction = read_photo_head(with_exif({"", "", "2026:03:14 09:30:12", "x5", ""}, bare_jpeg));
  CHECK(fraction->taken->since_epoch == morning);
  const auto offset = read_photo_head(with_exif({"", "", "2026:03:14 09:30:12", "", "+99:00"}, bare_jpeg));
  REQUIRE(offset->taken);
  CHECK(offset->taken->kind == ClockKind::local);
}

TEST_CASE("a picture without a head has no date of its own, and its name may stand in") {
  const TempFolder folder;
  CHECK_FALSE(read_photo_head(real_picture())->taken);
  write(folder / "IMG_20260314_093012.jpg", real_picture());
  const auto info = read_photo(folder / "IMG_20260314_093012.jpg");
  REQUIRE(info->taken);
  CHECK(info->taken->source == ClockSource::name);
  CHECK(info->taken->since_epoch == morning);
}

TEST_CASE("HEIC, PNG and TIFF tell date and device as JPEG does, and exiftool reads the same from these files") {
  const TempFolder folder;
  const ExifWords words{"Acme", "Shop 2", "2026:03:14 09:30:12", "25", "+01:00"};
  const std::vector<std::pair<const char*, std::vector<std::uint8_t>>> files{
      {"a.heic", exif_heic(words)},     {"far.heic", exif_heic(words, 1'200'000)},     {"a.png", exif_png(words)},
      {"little.tif", exif_tiff(words)}, {"big.tif", exif_tiff(words, ByteOrder::big)},
  };
  for (const auto& [name, bytes] : files) {
    CAPTURE(name);
    write(folder / name, bytes);
    const auto info = read_photo(folder / name);
    REQUIRE(info);
    CHECK(info->device == "Acme Shop 2");
    REQUIRE(info->taken);
    CHECK(info->taken->kind == ClockKind::utc);
    CHECK(info->taken->since_epoch == morning + 250ms - 1h);
    CHECK(info->taken->source == ClockSource::container);
    const auto said = said_by_exiftool(folder / name, "DateTimeOriginal");
    if (said) CHECK(*said == "2026:03:14 09:30:12");
  }
}

TEST_CASE("a picture without any date of its own has its file's time, which says where it comes from") {
  const TempFolder folder;
  for (const char* name : {"a.png", "a.heic", "a.jpg"}) {
    CAPTURE(name);
    const ExifWords none{"Acme", "", "", "", ""};
    write(folder / name, name[2] == 'p'   ? exif_png(none)
                         : name[2] == 'h' ? exif_heic(none)
                                          : with_exif(none, bare_jpeg));
    std::filesystem::last_write_time(folder / name,
                                     std::chrono::file_clock::from_sys(std::chrono::sys_time<Length>{morning}));
    const auto info = read_photo(folder / name);
    REQUIRE(info->taken);
    CHECK(info->taken->source == ClockSource::file_time);
    CHECK(info->taken->since_epoch == morning);
    CHECK(info->taken->text == "2026-03-14T09:30:12Z");
  }
}

TEST_CASE("films in boxes, other databases of chunks and texts are no photos") {
  using namespace std::string_view_literals;
  for (const std::string_view text : {"\0\0\0\x18"
                                      "ftypisom\0\0\0\0isommp42"sv,
                                      "\0\0\0\x18"
                                      "ftypqt  \0\0\0\0"sv,
                                      "\0\0\0\x18"
                                      "ftyp"sv,
                                      "\x89PNX\r\n\x1A\n"sv, "II+\0"sv, "BM"sv, "RIFF....WEBP"sv, ""sv}) {
    const std::vector<std::uint8_t> bytes(text.begin(), text.end());
    CHECK(read_photo_head(bytes).error().code() == Code::unsupported);
  }
}

TEST_CASE("HEIC, PNG and TIFF cut off or damaged anywhere are read as far as they go and never harm") {
  const ExifWords words{"Acme", "Shop 2", "2026:03:14 09:30:12", "25", "+01:00"};
  for (const std::vector<std::uint8_t>& whole : {exif_heic(words), exif_png(words), exif_tiff(words)}) {
    for (std::size_t size = 12; size < whole.size(); ++size) {
      CHECK(read_photo_head(std::span{whole}.first(size)).ok());
    }
    for (std::size_t at = 12; at < whole.size(); ++at) {
      for (const int byte : {0, 1, 0x7F, 0xFF}) {
        std::vector<std::uint8_t> damaged = whole;
        damaged[at] = static_cast<std::uint8_t>(byte);
        CHECK(read_photo_head(damaged).ok());
      }
    }
  }
}

TEST_CASE("what is no picture is refused with what to do, and a file that is not there is missed") {
  const TempFolder folder;
  write(folder / "a.jpg", {'G', 'I', 'F', '8'});
  write(folder / "b.jpg", {});
  for (const char* name : {"a.jpg", "b.jpg"}) {
    const auto info = read_photo(folder / name);
    REQUIRE_FALSE(info);
    CHECK(info.error().code() == Code::unsupported);
    CHECK(info.error().message().find("as JPEG") != std::string::npos);
  }
  CHECK(read_photo(folder / "c.jpg").error().code() == Code::not_found);
}

TEST_CASE("a head cut off or damaged anywhere is read as far as it goes and never harms") {
  const std::vector<std::uint8_t> whole =
      with_exif({"Acme", "Shop 2", "2026:03:14 09:30:12", "25", "+01:00"}, bare_jpeg);
  for (std::size_t size = 3; size < whole.size(); ++size) {
    CHECK(read_photo_head(std::span{whole}.first(size)).ok());
  }
  for (std::size_t at = 4; at < whole.size(); ++at) {
    for (const int byte : {0, 0x7F, 0xFF}) {
      std::vector<std::uint8_t> damaged = whole;
      damaged[at] = static_cast<std::uint8_t>(byte);
      CHECK(read_photo_head(damaged).ok());
    }
  }
}

// A date after 2069 was read as a time that the journal must refuse, and one such photo stopped the whole folder.
// It is no date now: nothing else in the program reaches that far.
TEST_CASE("a date farther off than any journal reaches is no date") {
  CHECK_FALSE(read_photo_head(with_exif({"", "", "2075:01:01 00:00:00", "", ""}, bare_jpeg))->taken);
  CHECK(read_photo_head(with_exif({"", "", "2060:01:01 00:00:00", "", ""}, bare_jpeg))->taken);
}

// EXIF 2.31, Orientation: which edges of what was seen are the stored picture's row 0 and column 0.
TEST_CASE("a photo is shown upright, however the camera was held") {
  const TempFolder folder;
  const auto path = folder / "a.jpg";
  const std::vector<std::string> upright{"rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr", "gwrb"};
  for (int orientation = 1; orientation <= 8; ++orientation) {
    CAPTURE(orientation);
    write(path, quarters(orientation));
    CHECK(read_photo(path)->orientation == orientation);
    const auto picture = read_photo_picture(path, 640);
    REQUIRE(picture);
    CHECK(picture->width == (orientation < 5 ? 64 : 32));
    CHECK(seen(*picture) == upright[static_cast<std::size_t>(orientation - 1)]);
    CHECK(read_photo_picture(path, 16)->height == (orientation < 5 ? 8 : 16));
  }
  write(path, quarters(9));
  CHECK(read_photo(path)->orientation == 1);
}

TEST_CASE("pictures of other kinds, damaged and missing ones are refused, each with its own code") {
  const TempFolder folder;
  const auto path = folder / "a";
  write(path, exif_png({}));
  CHECK(read_photo_picture(path, 640)->width == 1);
  write(path, exif_heic({"Acme", "Shop 2", "2026:03:14 09:30:12", "", ""}));
  CHECK(read_photo_picture(path, 640).error().code() == Code::unsupported);
  write(path, exif_tiff({"Acme", "", "", "", ""}));
  CHECK(read_photo_picture(path, 640).error().code() == Code::unsupported);
  for (const std::size_t kept : {20U, 60U, 300U}) {
    std::vector<std::uint8_t> cut = quarters(1);
    cut.resize(kept);
    write(path, cut);
    CHECK(read_photo_picture(path, 640).error().code() == Code::unreadable);
  }
  CHECK(read_photo_picture(folder / "none", 640).error().code() == Code::not_found);
}
