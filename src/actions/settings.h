// What holds for the whole build, and what is said about one session as a whole.
// Begin reading at: change_build.
#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

/// What is not given stays as it is.
struct BuildChange {
  std::optional<std::string> name{};
  std::optional<std::string> registration{};
  std::optional<std::string> place{};
  std::optional<std::string> zone{};
  std::optional<std::string> rounding{};  ///< none, minute, 0.1 h or 0.25 h
};
/// The build as it is now. Code::invalid for a zone or a rounding that is none. Sealed entries keep the words they were
/// sealed with.
Result<journal::Build> change_build(store::Store& store, const BuildChange& change);

struct SessionChange {
  std::optional<std::string> note{};
  std::optional<std::string> place{};
  /// Civil time at the build's place, on the session's day, when the session clock stood at zero. Of a time that comes
  /// twice, since clocks are set back, the first is meant; one that is left out is invalid.
  std::optional<Length> began{};
  bool began_by_clocks = false;  ///< what was said before holds no more: the next line-up asks the cameras' clocks
};
/// A beginning that was said here holds until it is said anew or left to the clocks; how far the cameras' clocks are
/// off is counted from it. Errors: not_found, conflict (it is sealed), invalid.
Result<journal::Session> change_session(store::Store& store, journal::SessionId session, const SessionChange& change);

}  // namespace jigtime::actions
