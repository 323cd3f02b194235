// The film of a session: its cameras side by side, in step, with sound and chapters.
// Must never know: the journal, what is being overwritten.
// Begin reading at: FilmPlan, make_film.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "base/result.h"
#include "film/cameras.h"
#include "film/pace.h"

namespace jigtime::film {

/// Words that stand while the range is on show; where several do, the one that began last.
struct Caption {
  SessionRange range;
  std::string doing;
  std::string people;
};

struct Moment {
  SessionTime at;
  std::string words;
};

struct Chapter {
  SessionTime begin;
  std::string title;
};

struct FilmPlan {
  std::vector<Camera> cameras;  ///< at least one
  std::vector<Pace::Stretch> stretches;
  PictureRate rate;
  int width = 1280;  ///< of the whole page
  std::vector<Caption> captions;
  std::vector<Moment> marks;                ///< in order
  std::vector<Chapter> chapters;            ///< in order; those outside the film are left out
  std::optional<std::size_t> sound_camera;  ///< only with one stretch whose speed has sound, see tempo.h
  std::string title;
  int threads = 2;
};

struct FilmReport {
  std::int64_t pictures = 0;
  int width = 0;
  int height = 0;
  std::vector<std::string> notes;  ///< footage that could not be shown or heard, whole sentences
};

/// What a film of ours has as its comment.
inline constexpr const char* film_comment = "Made by Jigtime from a builder's own footage.";

/// True when picture rates up to this are those of the footage; faster films have 30 pictures a second at the most.
PictureRate film_rate(const std::vector<Camera>& cameras, int speed_milli);

/// Writes an MP4 file (H.264, or MPEG-4 where libav has no libx264, 4:2:0; AAC) to `to` itself: the caller chooses a
/// temporary name and renames. Picture n shows pace.at(n) of every camera. `reached`: fraction done.
/// Footage that cannot be read shows why and stops nothing. Errors: cancelled, and those of writing.
Result<FilmReport> make_film(const FilmPlan& plan, const std::filesystem::path& to, const std::stop_token& stop,
                             const std::function<void(double)>& reached);

}  // namespace jigtime::film
