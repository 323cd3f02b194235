#include "media/libav/picture_maker.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::media;

namespace {

/// Pixel n, row by row, is (n, 0, 0).
Picture numbered(int width, int height) {
  Picture picture = Picture::blank(width, height);
  for (std::size_t i = 0; i < picture.rgba.size() / 4; ++i) {
    picture.rgba[i * 4] = static_cast<std::uint8_t>(i);
    picture.rgba[i * 4 + 1] = picture.rgba[i * 4 + 2] = 0;
  }
  return picture;
}

std::vector<int> numbers(const Picture& picture) {
  std::vector<int> found;
  for (std::size_t i = 0; i < picture.rgba.size(); i += 4) found.push_back(picture.rgba[i]);
  return found;
}

FramePtr grey_frame(int width, int height, AVPixelFormat format, std::uint8_t luma) {
  FramePtr frame{av_frame_alloc()};
  frame->format = format;
  frame->width = width;
  frame->height = height;
  REQUIRE(av_frame_get_buffer(frame.get(), 0) >= 0);
  for (int plane = 0; plane < 3; ++plane) {
    const int rows = plane == 0 ? height : (height + 1) / 2;
    for (int y = 0; y < rows; ++y) {
      std::fill_n(frame->data[plane] + y * frame->linesize[plane], frame->linesize[plane],
                  plane == 0 ? luma : std::uint8_t{128});
    }
  }
  return frame;
}

}  // namespace

TEST_CASE("turning goes clockwise") {
  // 0 1 2
  // 3 4 5
  const Picture picture = numbered(3, 2);
  const Picture quarter = turned(picture, 90);
  CHECK(quarter.width == 2);
  CHECK(quarter.height == 3);
  CHECK(numbers(quarter) == std::vector<int>{3, 0, 4, 1, 5, 2});
  CHECK(numbers(turned(picture, 180)) == std::vector<int>{5, 4, 3, 2, 1, 0});
  CHECK(numbers(turned(picture, 270)) == std::vector<int>{2, 5, 1, 4, 0, 3});
  CHECK(numbers(turned(picture, 0)) == numbers(picture));
  CHECK(numbers(turned(picture, 45)) == numbers(picture));
}

TEST_CASE("pictures are made smaller but never larger, and keep their shape") {
  const FramePtr frame = grey_frame(640, 360, AV_PIX_FMT_YUV420P, 126);
  const auto size = [&](int most_width, int rotation) {
    const Shape shape = rotation % 180 == 0 ? Shape{640, 360, rotation} : Shape{360, 640, rotation};
    const Result<Picture> picture = PictureMaker{shape, most_width}.make(*frame);
    REQUIRE(picture);
    CHECK(picture->rgba.size() == static_cast<std::size_t>(picture->width * picture->height * 4));
    return std::pair{picture->width, picture->height};
  };
  CHECK(size(0, 0) == std::pair{640, 360});
  CHECK(size(320, 0) == std::pair{320, 180});
  CHECK(size(1000, 0) == std::pair{640, 360});
  CHECK(size(0, 90) == std::pair{360, 640});
  CHECK(size(90, 270) == std::pair{90, 160});
  CHECK(size(1, 0) == std::pair{1, 1});
}

TEST_CASE("black, white and full range come out as such") {
  const auto level = [](AVPixelFormat format, std::uint8_t luma) {
    const FramePtr frame = grey_frame(65, 33, format, luma);
    const Result<Picture> picture = PictureMaker{{65, 33, 0}, 0}.make(*frame);
    REQUIRE(picture);
    CHECK(picture->rgba[3] == 255);
    CHECK(picture->rgba.back() == 255);
    return int{picture->rgba[4 * 100]};
  };
  CHECK(level(AV_PIX_FMT_YUV420P, 16) <= 1);
  CHECK(level(AV_PIX_FMT_YUV420P, 235) >= 254);
  CHECK(level(AV_PIX_FMT_YUVJ420P, 0) <= 1);
  CHECK(level(AV_PIX_FMT_YUVJ420P, 255) >= 254);
  CHECK(std::abs(level(AV_PIX_FMT_YUVJ420P, 126) - 126) <= 1);
}

TEST_CASE("a pixel format nobody knows is refused in words") {
  const FramePtr frame = grey_frame(64, 32, AV_PIX_FMT_YUV420P, 16);
  frame->format = 9999;
  const Result<Picture> picture = PictureMaker{{64, 32, 0}, 0}.make(*frame);
  REQUIRE_FALSE(picture.ok());
  CHECK(picture.error().code() == Code::unsupported);
}
