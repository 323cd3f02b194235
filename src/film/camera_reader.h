// What one camera shows, instant by instant.
// Must never know: other cameras, clocks, threads of its own.
// Begin reading at: CameraReader.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "base/picture.h"
#include "base/result.h"
#include "film/cameras.h"

namespace jigtime::film {

enum class Shows {
  picture,
  off,         ///< not running
  sound_only,  ///< the clip has no pictures
  gone,        ///< its footage was given up
  unreadable,  ///< its footage cannot be read
};

struct Seen {
  Shows shows = Shows::off;
  SessionTime begins{};  ///< since when; for a picture, when it begins to be shown
  Picture picture{};     ///< only with Shows::picture
  Off off{};             ///< only with Shows::off
  std::string words{};   ///< gone, unreadable: why, and what can be done
};

/// One thread at a time.
class CameraReader {
 public:
  struct Settings {
    int most_width = 0;      ///< 0 keeps the size
    bool use_copies = true;  ///< parts' small copies; one that turns out bad is left for its source
    int threads = 0;         ///< as PictureReader's, for sources; copies are decoded on one
  };
  CameraReader(Camera camera, Settings settings, std::stop_token stop = {});
  CameraReader(CameraReader&&) noexcept;
  CameraReader& operator=(CameraReader&&) noexcept;
  ~CameraReader();

  /// What is on show at `t`. Trouble with the footage is something to be shown, not an error.
  /// Errors: cancelled (stopped, or give_up said so).
  Result<Seen> at(SessionTime t);
  /// What comes after the last thing returned: the next picture, or the camera going off or coming back. Nothing after
  /// the last. Before any at() it is the first.
  Result<std::optional<Seen>> next();

  /// The picture so many on from the one on show at `t` (back, when negative), over stretches without pictures; the
  /// first or last one where there are not so many. Nothing when the camera has no picture in that direction.
  Result<std::optional<Seen>> picture_from(SessionTime t, int pictures);

  void set_most_width(int most_width);
  /// As PictureReader::set_give_up.
  void set_give_up(std::function<bool()> give_up);
  const Camera& camera() const;
  /// Copies that could not be read, or had damage in them.
  const std::vector<std::filesystem::path>& bad_copies() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::film
