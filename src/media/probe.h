// What a file holds, without reading it whole.
// Must never know: the journal, the session clock. libav stays inside media/libav.
// Begin reading at: probe.
#pragma once

#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "base/clock_reading.h"
#include "base/file_identity.h"
#include "base/result.h"
#include "base/time.h"

namespace jigtime::media {

struct SoundInfo {
  std::string codec;
  int sample_rate_hz = 0;
  int channels = 0;
  ClipTime begin;  ///< first presented sample; priming and edit lists honoured
  ClipTime end;    ///< after the last one, as the container tells it
};

struct PictureInfo {
  std::string codec;
  int width = 0;  ///< as shown: rotation applied
  int height = 0;
  int rate_num = 0;  ///< nominal pictures per second; 0/1 when unknown
  int rate_den = 1;
  Length picture_length{0};
  int rotation_degrees = 0;  ///< clockwise: 0, 90, 180, 270
  ClipTime end;              ///< after the last picture
};

struct MediaInfo {
  std::string container;
  std::optional<PictureInfo> picture;
  std::optional<SoundInfo> sound;
  Length length{0};                  ///< pictures from first to end of last; sound where there are no pictures
  std::vector<ClockReading> clocks;  ///< most trusted first
  std::vector<std::string> notes;    ///< whole sentences: "The file ends in the middle of a picture."
};

/// Recognises media by content. Decodes one picture at the most; reads the head and the tail of the file.
/// Errors: not_found, denied, unreadable (with the reason in a builder's words and what to do), unsupported
/// (neither sound nor moving pictures), cancelled.
Result<MediaInfo> probe(const std::filesystem::path& path, std::stop_token stop = {});

/// The comment that stands in a media file's own head; empty for none. Errors: as probe.
Result<std::string> comment_of(const std::filesystem::path& path, std::stop_token stop = {});

/// Dates and times in a file's name, as consumer cameras write them: 20260314_093012, 2026-03-14 09.30.12 ...
std::optional<ClockReading> clock_in_name(std::string_view file_name);

/// Size and digest of both ends; never reads more than 128 KiB.
Result<FileIdentity> identify(const std::filesystem::path& path);

}  // namespace jigtime::media
