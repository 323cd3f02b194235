#include "media/picture_reader.h"

#include <utility>

#include "media/libav/frame_reader.h"
#include "media/libav/picture_maker.h"

namespace jigtime::media {

struct PictureReader::Impl {
  FrameReader frames;
  Shape shape;
  PictureMaker maker;

  Result<TimedPicture> show(const Shown& shown) {
    Result<Picture> picture = maker.make(*shown.frame);
    if (!picture) return picture.error().during(frames.file().name());
    return TimedPicture{shown.at, std::move(*picture)};
  }
};

PictureReader::PictureReader(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
PictureReader::PictureReader(PictureReader&&) noexcept = default;
PictureReader& PictureReader::operator=(PictureReader&&) noexcept = default;
PictureReader::~PictureReader() = default;

Result<PictureReader> PictureReader::open(const std::filesystem::path& path, int most_width, std::stop_token stop,
                                          int threads) {
  Result<FrameReader> frames = FrameReader::open(path, std::move(stop), threads);
  if (!frames) return frames.error();
  const Shape shape = shown_shape(*frames->file().pictures());
  return PictureReader{std::make_unique<Impl>(Impl{std::move(*frames), shape, PictureMaker{shape, most_width}})};
}

Result<TimedPicture> PictureReader::at(ClipTime t) {
  const Result<const Shown*> shown = impl_->frames.at(t);
  if (!shown) return shown.error();
  return impl_->show(**shown);
}

Result<std::optional<TimedPicture>> PictureReader::next() {
  const Result<const Shown*> shown = impl_->frames.next();
  if (!shown) return shown.error();
  if (*shown == nullptr) return std::optional<TimedPicture>{};
  Result<TimedPicture> picture = impl_->show(**shown);
  if (!picture) return picture.error();
  return std::optional{std::move(*picture)};
}

void PictureReader::set_most_width(int most_width) { impl_->maker = PictureMaker{impl_->shape, most_width}; }
void PictureReader::set_give_up(std::function<bool()> give_up) { impl_->frames.set_give_up(std::move(give_up)); }
std::int64_t PictureReader::damaged_pictures() const { return impl_->frames.damaged_pictures(); }

}  // namespace jigtime::media
