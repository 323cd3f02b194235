#include "media/writer.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/text.h"
#include "media/libav/error.h"
#include "media/libav/file_io.h"
#include "media/libav/picture_encoder.h"
#include "media/libav/sound_encoder.h"

namespace jigtime::media {
namespace {

constexpr std::array<std::string_view, 6> containers{"mp4", "mov", "mpegts", "matroska", "avi", "wav"};

Done check(const WriterSettings& settings) {
  if (std::find(containers.begin(), containers.end(), settings.container) == containers.end()) {
    return Error{Code::invalid, "Files of the kind \"" + settings.container + "\" are not written here."};
  }
  if (!settings.pictures && !settings.sound) return Error{Code::invalid, "A file needs pictures, sound or both."};
  return {};
}

/// As libav wants them: each one allocated by itself, freed with the context.
Done add_chapters(AVFormatContext& output, const std::vector<WriterSettings::Chapter>& chapters) {
  for (const WriterSettings::Chapter& chapter : chapters) {
    auto* made = static_cast<AVChapter*>(av_mallocz(sizeof(AVChapter)));
    int count = static_cast<int>(output.nb_chapters);
    if (made == nullptr || av_dynarray_add_nofree(&output.chapters, &count, made) < 0) {
      av_free(made);
      return Error{Code::internal, "There is not enough memory for chapters."};
    }
    output.nb_chapters = static_cast<unsigned>(count);
    made->id = static_cast<std::int64_t>(output.nb_chapters);
    made->time_base = {1, 1'000'000'000};
    made->start = chapter.begin.count();
    made->end = chapter.end.count();
    av_dict_set(&made->metadata, "title", chapter.title.c_str(), 0);
  }
  return {};
}

}  // namespace

struct Writer::Impl {
  std::unique_ptr<FileIo> file;
  OutputPtr output;
  std::optional<PictureEncoder> pictures;
  std::optional<SoundEncoder> sound;
  bool finished = false;

  Done open(const WriterSettings& settings);
};

Done Writer::Impl::open(const WriterSettings& settings) {
  AVFormatContext* made = nullptr;
  const int code = avformat_alloc_output_context2(&made, nullptr, settings.container.c_str(), nullptr);
  output.reset(made);
  if (code < 0) return from_libav(code, "A file of the kind " + settings.container + " cannot be made", Deed::writing);
  output->pb = file->io();
  output->flags |= AVFMT_FLAG_CUSTOM_IO;
  output->strict_std_compliance = FF_COMPLIANCE_EXPERIMENTAL;
  if (settings.pictures) {
    Result<PictureEncoder> opened = PictureEncoder::open(*output, *settings.pictures, settings.threads);
    if (!opened) return opened.error();
    pictures.emplace(std::move(*opened));
  }
  if (settings.sound) {
    Result<SoundEncoder> opened = SoundEncoder::open(*output, *settings.sound);
    if (!opened) return opened.error();
    sound.emplace(std::move(*opened));
  }
  if (settings.creation_time) {
    av_dict_set(&output->metadata, "creation_time", to_text(*settings.creation_time).c_str(), 0);
  }
  if (!settings.title.empty()) av_dict_set(&output->metadata, "title", settings.title.c_str(), 0);
  if (!settings.comment.empty()) av_dict_set(&output->metadata, "comment", settings.comment.c_str(), 0);
  if (const Done added = add_chapters(*output, settings.chapters); !added) return added;
  const int header = avformat_write_header(output.get(), nullptr);
  if (header < 0) return from_libav(header, "The start of the file cannot be written", Deed::writing);
  return {};
}

bool can_encode(const std::string& codec) { return avcodec_find_encoder_by_name(codec.c_str()) != nullptr; }

Writer::Writer(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
Writer::Writer(Writer&&) noexcept = default;
Writer& Writer::operator=(Writer&&) noexcept = default;
Writer::~Writer() = default;

Result<Writer> Writer::open(const std::filesystem::path& path, const WriterSettings& settings) {
  if (const Done checked = check(settings); !checked) return checked.error();
  auto impl = std::make_unique<Impl>();
  Result<std::unique_ptr<FileIo>> file = FileIo::write(path);
  if (!file) return file.error();
  impl->file = std::move(*file);
  if (const Done opened = impl->open(settings); !opened) return opened.error();
  return Writer{std::move(impl)};
}

Done Writer::write(const Picture& picture) {
  if (!impl_->pictures) return Error{Code::invalid, "This file was opened without pictures."};
  return impl_->pictures->write(picture);
}

Done Writer::write(std::span<const float> samples) {
  if (!impl_->sound) return Error{Code::invalid, "This file was opened without sound."};
  return impl_->sound->write(samples);
}

Done Writer::finish() {
  if (impl_->finished) return {};
  if (impl_->pictures) {
    if (const Done done = impl_->pictures->finish(); !done) return done;
  }
  if (impl_->sound) {
    if (const Done done = impl_->sound->finish(); !done) return done;
  }
  int code = av_write_trailer(impl_->output.get());
  if (code >= 0) {
    avio_flush(impl_->file->io());
    code = impl_->file->io()->error;
  }
  if (code < 0) return from_libav(code, "The end of the file cannot be written", Deed::writing);
  impl_->finished = true;
  return {};
}

}  // namespace jigtime::media
