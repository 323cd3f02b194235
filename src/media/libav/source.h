// One media file open for reading: which container, which streams count, and where its clip time begins.
#pragma once

#include <deque>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>

#include "base/result.h"
#include "base/time.h"
#include "media/libav/file_io.h"
#include "media/libav/handles.h"

namespace jigtime::media {

/// `ticks` of `base`, to the nearest nanosecond; nothing for "no time stamp" and beyond reach.
std::optional<Length> to_length(std::int64_t ticks, AVRational base);

class Source {
 public:
  /// Recognises the file by its content, chooses one stream of moving pictures and one of sound, and finds the origin
  /// of clip time. Errors: as media::probe.
  static Result<Source> open(const std::filesystem::path& path, std::stop_token stop);
  Source(Source&&) noexcept = default;
  Source& operator=(Source&& other) noexcept;

  AVFormatContext& format() const { return *format_; }
  FileIo& file() const { return *file_; }
  /// The chosen streams; nullptr where the file has none.
  AVStream* pictures() const { return pictures_; }
  AVStream* sound() const { return sound_; }
  /// True when this machine's libav can decode them.
  bool can_decode(const AVStream& stream) const;
  /// The file as error texts name it.
  const std::string& name() const { return name_; }

  /// Where clip time zero lies on the container's own time line.
  Length origin() const { return origin_; }
  std::optional<ClipTime> clip_time(std::int64_t ticks, const AVStream& stream) const;
  /// The tick at or next before `t` in the stream's time base.
  std::int64_t ticks(ClipTime t, const AVStream& stream) const;

  /// From now on only the packets of `wanted` are read (nullptr: of both chosen streams).
  void read_only(const AVStream* wanted);
  /// The next packet of the streams asked for: false at the end or where the file breaks off. Packets that open()
  /// had to read come first. Errors: cancelled; damage is met by going on, see failures().
  Result<bool> read(AVPacket& packet);
  /// Forgets packets read ahead: call after every seek.
  void forget_packets() { ahead_.clear(); }
  /// How often the demuxer could not make sense of what it read.
  std::int64_t failures() const { return failures_; }
  /// Too many failures in a row: what follows was given up.
  bool gave_up() const { return gave_up_; }

 private:
  Source() = default;
  Done open_container();
  Done choose_streams();
  Done find_origin();
  void mend_avi_stamps(AVPacket& packet);
  /// The stamp of the first frame that the decoder presents. What was read on the way is kept for read().
  Result<std::optional<Length>> first_presented(const AVStream& stream);

  // The file outlives the context that reads through it.
  std::unique_ptr<FileIo> file_;
  InputPtr format_;
  AVStream* pictures_ = nullptr;
  AVStream* sound_ = nullptr;
  std::string name_;
  Length origin_{0};
  std::deque<PacketPtr> ahead_;
  std::map<int, std::int64_t> avi_shift_;  ///< by stream: ticks to add since a damaged place
  std::int64_t failures_ = 0;
  bool gave_up_ = false;
};

}  // namespace jigtime::media
