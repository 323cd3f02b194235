#include <doctest/doctest.h>

#include <cmath>

#include "media/picture_reader.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;

namespace {

Picture shaded(int width, int height) {
  Picture picture = Picture::blank(width, height);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      std::uint8_t* pixel = &picture.rgba[static_cast<std::size_t>(y * width + x) * 4];
      pixel[0] = static_cast<std::uint8_t>(200 * x / width);
      pixel[1] = static_cast<std::uint8_t>(200 * y / height);
      pixel[2] = 90;
    }
  }
  return picture;
}

/// Mean difference of a channel value after ffmpeg has decoded the JPEG.
double mean_error(const TempFolder& folder, const Picture& picture, int quality) {
  const Result<std::vector<std::uint8_t>> jpeg = media::to_jpeg(picture, quality);
  REQUIRE(jpeg);
  write_bytes(folder / "a.jpg", *jpeg);
  ffmpeg({"-i", (folder / "a.jpg").string(), "-f", "rawvideo", "-pix_fmt", "rgba", (folder / "a.raw").string()});
  const std::vector<std::uint8_t> back = read_bytes(folder / "a.raw");
  REQUIRE(back.size() == picture.rgba.size());
  double sum = 0;
  for (std::size_t i = 0; i < back.size(); ++i) sum += std::abs(back[i] - picture.rgba[i]);
  return sum / static_cast<double>(back.size());
}

}  // namespace

TEST_CASE("a picture kept as JPEG looks the same to ffmpeg") {
  const TempFolder folder;
  CHECK(mean_error(folder, shaded(320, 200), 85) < 2.0);
  CHECK(mean_error(folder, shaded(33, 17), 95) < 3.0);
}

TEST_CASE("higher quality costs more bytes") {
  const Picture picture = shaded(320, 200);
  const auto bytes = [&](int quality) { return media::to_jpeg(picture, quality)->size(); };
  CHECK(bytes(20) < bytes(70));
  CHECK(bytes(70) < bytes(95));
}

TEST_CASE("pictures that are none are refused") {
  CHECK(media::to_jpeg(Picture{}).error().code() == Code::invalid);
  CHECK(media::to_jpeg(Picture{10, 10, {}}).error().code() == Code::invalid);
  CHECK(media::to_jpeg(Picture{-1, 10, {}}).error().code() == Code::invalid);
  CHECK(media::to_jpeg(shaded(8, 8), 0).error().code() == Code::invalid);
  CHECK(media::to_jpeg(shaded(8, 8), 101).error().code() == Code::invalid);
}
