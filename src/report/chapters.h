// What was done when, as chapters of the camera's files and of the film.
// Must never know: how a format writes them.
// Begin reading at: chapters_of.
#pragma once

#include <string>
#include <vector>

#include "report/report.h"

namespace jigtime::report {

struct Chapter {
  Length begin{0};  ///< from the beginning of the file
  Length end{0};    ///< later than begin
  std::string title;
};

/// Spans one after the other; where two overlap the one that began later has the moment, as hours are counted.
/// On the session clock.
std::vector<Chapter> chapters_of(const Timeline& timeline);

/// The same in a film of the range, shown `speed` times as fast, from the film's first picture. Precondition: speed >
/// 0.
std::vector<Chapter> film_chapters(const Timeline& timeline, SessionRange range, double speed);
/// From the first placed picture to the last; nothing when no clip has a place.
std::optional<SessionRange> filmed_range(const Timeline& timeline);

/// One file of one camera.
struct FileChapters {
  std::string camera;
  std::string file;               ///< base name
  std::string safe_name;          ///< for the file of chapters, without an ending: "C07-bench-BN_0041.MP4"
  std::vector<Chapter> chapters;  ///< spans, and marks of a second each, by begin; may be empty
  std::string why_empty{};        ///< a sentence where there are none
};

/// Of every file of every clip. Those without chapters are among them, with the reason: who looks for the chapters of a
/// file learns that there are none, not that somebody forgot them.
std::vector<FileChapters> chapters_of_files(const Timeline& timeline);

}  // namespace jigtime::report
