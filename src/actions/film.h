// The film of a session, out of the journal.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct FilmWords {
  std::optional<SessionTime> from{};  ///< nothing: the first instant of the footage
  std::optional<SessionTime> until{};
  int speed_milli = 1000;           ///< 100 to 500,000; 1000: as filmed
  std::optional<int> mark_milli{};  ///< another speed from 3 s before to 3 s after every mark
  std::string sound{};              ///< camera's name, "none", or empty: the one that ran longest with sound
  int width = 1280;                 ///< 320 to 3840
  bool replace = false;             ///< write over a file that is no film of ours; never over footage
};

struct FilmMade {
  std::filesystem::path file;
  SessionTime from{};
  SessionTime until{};
  Length length{0};
  std::int64_t pictures = 0;
  int rate_num = 0;  ///< pictures per second: rate_num / rate_den
  int rate_den = 1;
  int width = 0;
  int height = 0;
  std::vector<std::string> cameras;
  std::string sound;               ///< camera; empty for none
  std::string no_sound;            ///< then why, a whole sentence
  std::vector<std::string> notes;  ///< what could not be shown, whole sentences
};

/// Renders beside `to` and renames, so that `to` is a whole film or what it was. Errors: invalid (no camera of that
/// name, nothing between from and until, `to` is no *.mp4, bounds), not_found (no footage is placed; no such folder),
/// conflict (`to` is footage, or a file that is no film of ours and replace is not set), cancelled, no_space, denied.
Result<FilmMade> make_session_film(const store::Store& store, journal::SessionId session,
                                   const std::filesystem::path& to, const FilmWords& words, const Watch& watch);

}  // namespace jigtime::actions
