#include <algorithm>
#include <fstream>
#include <limits>

#include "base/time.h"
#include "media/libav/error.h"
#include "media/libav/handles.h"
#include "media/libav/picture_maker.h"
#include "media/photo.h"
#include "media/photo_file.h"

namespace jigtime::media {
namespace {

// The largest cameras of today write a fifth of either.
constexpr std::uint64_t most_bytes = std::uint64_t{256} << 20U;
constexpr std::int64_t most_pixels = 500'000'000;

Result<std::vector<std::uint8_t>> whole_file(const std::filesystem::path& path) {
  std::ifstream file{path, std::ios::binary | std::ios::ate};
  if (!file) return Error{Code::not_found, "The photo cannot be opened. Check its path and its permissions."};
  const auto size = static_cast<std::int64_t>(file.tellg());
  if (size < 0 || static_cast<std::uint64_t>(size) > most_bytes) {
    return Error{Code::unsupported, "The photo is larger than 256 MiB. Save a smaller copy of it as JPEG."};
  }
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(size) + AV_INPUT_BUFFER_PADDING_SIZE);
  file.seekg(0);
  // NOLINTNEXTLINE: characters as the bytes they are.
  if (!file.read(reinterpret_cast<char*>(bytes.data()), size)) {
    return Error{Code::unreadable, "The photo cannot be read to its end. Copy it again from its card."};
  }
  return bytes;
}

Result<AVCodecID> codec_of(std::span<const std::uint8_t> bytes) {
  switch (photo_kind(bytes).value_or(PhotoKind::tiff)) {
    case PhotoKind::jpeg: return AV_CODEC_ID_MJPEG;
    case PhotoKind::png: return AV_CODEC_ID_PNG;
    case PhotoKind::heif:
      return Error{Code::unsupported, "HEIC and AVIF photos are not shown. Save a copy as JPEG and add that."};
    case PhotoKind::tiff: break;
  }
  return Error{Code::unsupported, "Photos are shown from JPEG and PNG files. Save a copy as JPEG and add that."};
}

Result<FramePtr> decoded(AVCodecID id, std::vector<std::uint8_t>& padded) {
  const AVCodec* decoder = avcodec_find_decoder(id);
  if (decoder == nullptr) return Error{Code::unsupported, "This machine's libav cannot read such photos."};
  const CodecPtr codec{avcodec_alloc_context3(decoder)};
  const PacketPtr packet{av_packet_alloc()};
  FramePtr frame{av_frame_alloc()};
  if (codec == nullptr || packet == nullptr || frame == nullptr) {
    return Error{Code::internal, "There is not enough memory for a photo."};
  }
  codec->max_pixels = most_pixels;
  codec->thread_count = 1;
  codec->err_recognition = AV_EF_EXPLODE;  // half a picture is no evidence
  int code = avcodec_open2(codec.get(), decoder, nullptr);
  packet->data = padded.data();
  packet->size = static_cast<int>(padded.size() - AV_INPUT_BUFFER_PADDING_SIZE);
  if (code >= 0) code = avcodec_send_packet(codec.get(), packet.get());
  if (code >= 0) code = avcodec_send_packet(codec.get(), nullptr);
  if (code >= 0) code = avcodec_receive_frame(codec.get(), frame.get());
  if (code < 0) return from_libav(code, "The photo cannot be read");
  return frame;
}

Picture mirrored(Picture picture) {
  for (int y = 0; y < picture.height; ++y) {
    for (int x = 0; x < picture.width / 2; ++x) {
      const auto pixel = [&](int at) {
        return picture.rgba.begin() + (static_cast<std::ptrdiff_t>(y) * picture.width + at) * 4;
      };
      std::swap_ranges(pixel(x), pixel(x) + 4, pixel(picture.width - 1 - x));
    }
  }
  return picture;
}

/// EXIF 2.31, Orientation: which edges of the stored picture are the top and the left of what was seen.
struct Turn {
  int degrees;  ///< clockwise
  bool mirror;  ///< after turning
};
Turn turn_of(int orientation) {
  switch (orientation) {
    case 2: return {0, true};
    case 3: return {180, false};
    case 4: return {180, true};
    case 5: return {90, true};
    case 6: return {90, false};
    case 7: return {270, true};
    case 8: return {270, false};
    default: return {0, false};
  }
}

}  // namespace

Result<Picture> read_photo_picture(const std::filesystem::path& path, int most_side) {
  quieten_libav();
  forget_complaint();
  auto bytes = whole_file(path);
  if (!bytes) return bytes.error();
  const auto codec = codec_of(*bytes);
  if (!codec) return codec.error();
  const auto info = read_photo_head(*bytes);
  const Turn turn = turn_of(info ? info->orientation : 1);
  const auto frame = decoded(*codec, *bytes);
  if (!frame) return frame.error();
  Shape shape{(*frame)->width, (*frame)->height, turn.degrees};
  const int longer = std::max(shape.width, shape.height);
  if (turn.degrees % 180 != 0) std::swap(shape.width, shape.height);
  const int most_width = longer > most_side ? std::max(static_cast<int>(scaled(shape.width, most_side, longer)), 1) : 0;
  auto picture = PictureMaker{shape, most_width}.make(**frame);
  if (!picture || !turn.mirror) return picture;
  return mirrored(*std::move(picture));
}

}  // namespace jigtime::media
