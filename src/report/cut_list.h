// Which pictures of which file stand where, in whole pictures of one rate: what an editor needs.
// Must never know: how a format writes it.
// Begin reading at: cut_list_of.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "report/report.h"

namespace jigtime::report {

/// Pictures a second as a fraction: 30000/1001.
struct PictureRate {
  std::int64_t pictures = 25;
  std::int64_t seconds = 1;
  double per_second() const { return static_cast<double>(pictures) / static_cast<double>(seconds); }
  /// The picture nearest to a moment so long after zero.
  std::int64_t at(Length since_zero) const;
  Length length_of(std::int64_t count) const;
  friend bool operator==(const PictureRate&, const PictureRate&) = default;
};

/// The rate a camera's nominal picture length stands for: the usual ones exactly, any other to the nanosecond.
PictureRate rate_of(Length picture_length);

struct Cut {
  std::int64_t from = 0;       ///< place on the timeline
  std::int64_t count = 0;      ///< at least 1
  std::int64_t file_from = 0;  ///< into the file, in pictures of the timeline's rate
  const journal::Clip* clip = nullptr;
  const journal::Part* part = nullptr;
  const journal::Placement* placement = nullptr;
  const Piece* piece = nullptr;
};

/// Clips of one camera that do not overlap; a camera whose clips do has several.
struct CutTrack {
  std::string camera;
  bool sound = false;
  std::vector<Cut> cuts;  ///< in order, apart
};

struct CutList {
  PictureRate rate;
  std::vector<CutTrack> tracks;  ///< pictures first, then sound
};

/// On loan from the timeline. The timeline's zero is the session's; what lies before it is cut off.
CutList cut_list_of(const Timeline& timeline);

}  // namespace jigtime::report
