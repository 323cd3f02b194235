#include "actions/film.h"

#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <system_error>

#include "actions/film_plan.h"
#include "base/text.h"
#include "film/film.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

std::string named(const fs::path& path) { return "\"" + to_utf8(path.string()) + "\""; }

Done check_name(const fs::path& to) {
  std::string ending = to.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) { return std::tolower(c); });
  std::error_code ignored;
  if (ending != ".mp4" || fs::is_directory(to, ignored)) {
    return Error{Code::invalid, "A film is an MP4 file: name it with .mp4 at its end, not " + named(to) + "."};
  }
  return {};
}

/// Footage is never written over, whatever was said, and wherever it lies now.
Result<bool> is_footage(const store::Store& store, const fs::path& to) {
  const auto identity = media::identify(to);
  if (identity) {
    const auto part = store.part(*identity);
    if (!part) return part.error();
    if (*part) return true;
  }
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  for (const journal::Session& session : *sessions) {
    const auto record = store.record(session.id);
    if (!record) return record.error();
    std::error_code ignored;
    for (const journal::Clip& clip : record->clips) {
      if (clip.let_go && !clip.let_go->kept_copy.empty() && fs::equivalent(clip.let_go->kept_copy, to, ignored)) {
        return true;
      }
      for (const journal::Part& part : clip.parts) {
        if (fs::equivalent(part.path, to, ignored)) return true;
      }
    }
  }
  return false;
}

Done check_destination(const store::Store& store, const fs::path& to, bool replace) {
  std::error_code ignored;
  if (!fs::exists(to, ignored)) return {};
  const auto footage = is_footage(store, to);
  if (!footage) return footage.error();
  if (*footage) {
    return Error{Code::conflict, named(to) + " is footage of this build and is never written over. Name another file."};
  }
  const auto comment = media::comment_of(to);
  if (replace || (comment && *comment == film::film_comment)) return {};
  return Error{Code::conflict, named(to) +
                                   " is there already and is no film made here. Name another file, or say --replace "
                                   "to write over it."};
}

/// Beside the film, so that renaming is all it takes; gone unless it was renamed.
class Unfinished {
 public:
  explicit Unfinished(const fs::path& to)
      : path_{to.parent_path() / ("." + to.filename().string() + ".making" + std::to_string(::getpid()))} {}
  Unfinished(const Unfinished&) = delete;
  Unfinished& operator=(const Unfinished&) = delete;
  ~Unfinished() {
    std::error_code ignored;
    fs::remove(path_, ignored);
  }
  const fs::path& path() const { return path_; }
  Done become(const fs::path& to) const {
    std::error_code failure;
    fs::rename(path_, to, failure);
    if (failure) return Error{Code::denied, named(to) + " cannot be written: " + failure.message() + "."};
    return {};
  }

 private:
  fs::path path_;
};

FilmMade made_of(const SessionFilm& film, const film::FilmReport& report, const fs::path& to) {
  const film::Pace pace{film.plan.stretches, film.plan.rate};
  FilmMade made;
  made.file = to;
  made.from = film.range.begin();
  made.until = film.range.end();
  made.length = pace.film_time(report.pictures);
  made.pictures = report.pictures;
  made.rate_num = film.plan.rate.num;
  made.rate_den = film.plan.rate.den;
  made.width = report.width;
  made.height = report.height;
  for (const film::Camera& camera : film.plan.cameras) made.cameras.push_back(camera.name);
  if (film.plan.sound_camera) made.sound = film.plan.cameras[*film.plan.sound_camera].name;
  made.no_sound = film.no_sound;
  made.notes = film.notes;
  made.notes.insert(made.notes.end(), report.notes.begin(), report.notes.end());
  return made;
}

}  // namespace

Result<FilmMade> make_session_film(const store::Store& store, journal::SessionId session, const fs::path& to,
                                   const FilmWords& words, const Watch& watch) {
  if (const Done fits = check_name(to); !fits) return fits.error();
  const auto build = store.build();
  if (!build) return build.error();
  const auto known = store.known();
  if (!known) return known.error();
  const auto record = store.record(session);
  if (!record) return record.error();
  auto film = plan_film(*record, *known, *build, words);
  if (!film) return film.error();
  if (const Done free = check_destination(store, to, words.replace); !free) return free.error();
  film->plan.threads = watch.threads;
  const Unfinished unfinished{to};
  const auto reached = [&watch](double fraction) { watch.tell(fraction, "film"); };
  const auto report = film::make_film(film->plan, unfinished.path(), watch.stop, reached);
  if (!report && report.error().code() == Code::cancelled) {
    return Error{Code::cancelled, "The film was stopped. Nothing was written."};
  }
  if (!report) return report.error();
  if (const Done renamed = unfinished.become(to); !renamed) return renamed.error();
  return made_of(*film, *report, to);
}

}  // namespace jigtime::actions
