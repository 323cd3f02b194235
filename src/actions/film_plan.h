// What the film of a session shows and says, worked out of its record.
#pragma once

#include "actions/film.h"
#include "film/film.h"

namespace jigtime::actions {

struct SessionFilm {
  film::FilmPlan plan;
  SessionRange range;
  std::string no_sound{};
  std::vector<std::string> notes{};
};

/// Errors as make_session_film's about `words`, and not_found where nothing is placed.
Result<SessionFilm> plan_film(const journal::SessionRecord& record, const journal::Register& known,
                              const journal::Build& build, const FilmWords& words);

}  // namespace jigtime::actions
