#include "actions/film_plan.h"

#include <algorithm>
#include <cmath>

#include "actions/session_cameras.h"
#include "base/text.h"
#include "film/tempo.h"

namespace jigtime::actions {
namespace {

constexpr int least_speed_milli = 100;
constexpr int most_speed_milli = 500'000;
constexpr int least_width = 320;
constexpr int most_width = 3840;
constexpr Length around_marks = std::chrono::seconds{3};

Done check(const FilmWords& words) {
  const auto fits = [](int milli) { return milli >= least_speed_milli && milli <= most_speed_milli; };
  if (!fits(words.speed_milli) || (words.mark_milli && !fits(*words.mark_milli))) {
    return Error{Code::invalid, "A film runs at 0.1 to 500 times the speed it was filmed at."};
  }
  if (words.width < least_width || words.width > most_width) {
    return Error{Code::invalid, "A film is 320 to 3840 pixels wide."};
  }
  return {};
}

Result<SessionRange> range_of(const std::vector<film::Camera>& cameras, const FilmWords& words) {
  const auto whole = film::extent(cameras);
  if (!whole) {
    return Error{Code::not_found,
                 "No clip of this session is lined up, so there is nothing to show side by side. Run jigtime align "
                 "first, or place a clip by hand: jigtime place."};
  }
  const SessionTime from = std::max(words.from.value_or(whole->begin()), whole->begin());
  const SessionTime until = std::min(words.until.value_or(whole->end()), whole->end());
  const auto range = SessionRange::make(from, until);
  if (range) return *range;
  return Error{Code::invalid, "There is no footage between these times: the session's runs from " +
                                  to_clock_text(whole->begin()) + " to " + to_clock_text(whole->end()) + "."};
}

Length heard_length(const film::Camera& camera, const SessionRange& range) {
  Length sum{0};
  for (const film::Clip& clip : camera.clips) {
    if (!clip.has_sound || !clip.gone.empty()) continue;
    for (const Piece& piece : clip.pieces) {
      const auto part = SessionRange::make(piece.session_start, piece.session_end());
      const auto within = part ? part->intersection(range) : std::nullopt;
      if (within) sum += within->length();
    }
  }
  return sum;
}

bool has_sound_at(int speed_milli) {
  return speed_milli >= film::least_tempo * 1000 && speed_milli <= film::most_tempo * 1000;
}

/// Sets plan.sound_camera, or says why there is none.
Done choose_sound(SessionFilm& film, const FilmWords& words) {
  const auto& cameras = film.plan.cameras;
  const bool named = !words.sound.empty() && words.sound != "none";
  std::optional<std::size_t> chosen;
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    if (named && cameras[i].name == words.sound) chosen = i;
    if (named || heard_length(cameras[i], film.range) == Length{0}) continue;
    if (!chosen || heard_length(cameras[i], film.range) > heard_length(cameras[*chosen], film.range)) chosen = i;
  }
  if (named && !chosen) {
    return Error{Code::invalid, "No camera \"" + words.sound + "\" is in this film. Name one that is, or none."};
  }
  if (words.sound == "none") {
    film.no_sound = "Without sound, as asked.";
  } else if (film.plan.stretches.size() > 1) {
    film.no_sound = "Without sound: the speed changes on the way.";
  } else if (!has_sound_at(words.speed_milli)) {
    film.no_sound = "Without sound: it is kept at its pitch from 0.25x to 2x only.";
  } else if (!chosen) {
    film.no_sound = "Without sound: no camera that ran had any.";
  } else {
    film.plan.sound_camera = chosen;
  }
  return {};
}

std::string doing_of(const journal::Span& span, const journal::Register& known) {
  if (span.kind == journal::SpanKind::pause) return span.note.empty() ? "Break" : "Break: " + span.note;
  const journal::Task* task = span.task ? known.task(*span.task) : nullptr;
  if (task == nullptr) return span.note;
  const std::string where = known.assembly_path(task->assembly);
  return task->title + (where.empty() ? "" : " (" + where + ")");
}

std::string people_of(const journal::Span& span, const journal::Register& known) {
  std::vector<std::string> names;
  for (const journal::PersonId id : span.people) {
    if (const journal::Person* person = known.person(id)) names.push_back(person->name);
  }
  std::string text = listed(names);
  for (const journal::FastenerLine& line : span.fasteners) {
    text += (text.empty() ? "" : "; ") + std::to_string(line.set) + " x " + line.callout;
  }
  return text;
}

void say_what_is_done(SessionFilm& film, const journal::SessionRecord& record, const journal::Register& known) {
  std::vector<film::Chapter>& chapters = film.plan.chapters;
  for (const journal::Span& span : record.spans) {
    const auto range = SessionRange::make(span.begin, span.end);
    const auto shown = range && !span.off_camera ? range->intersection(film.range) : std::nullopt;
    if (!shown) continue;
    const std::string doing = doing_of(span, known);
    film.plan.captions.push_back({*range, doing, people_of(span, known)});
    if (chapters.empty() || chapters.back().title != doing) chapters.push_back({shown->begin(), doing});
  }
  if (!chapters.empty() && chapters.front().begin > film.range.begin()) {
    chapters.insert(chapters.begin(), {film.range.begin(), "Session of " + jigtime::to_text(record.session.date)});
  }
  for (const journal::Mark& mark : record.marks) film.plan.marks.push_back({mark.at, mark.note});
}

/// Cameras that nothing is known of where they belong cannot be shown in step.
void leave_out_unplaced(SessionFilm& film) {
  auto& cameras = film.plan.cameras;
  for (const film::Camera& camera : cameras) {
    const auto unplaced = std::count_if(camera.clips.begin(), camera.clips.end(),
                                        [](const film::Clip& clip) { return clip.pieces.empty(); });
    if (unplaced == 0) continue;
    film.notes.push_back(std::to_string(unplaced) + (unplaced == 1 ? " clip of " : " clips of ") + camera.name +
                         " could not be placed on the session's clock and " + (unplaced == 1 ? "is" : "are") +
                         " left out.");
  }
  std::erase_if(cameras, [](const film::Camera& camera) {
    return std::all_of(camera.clips.begin(), camera.clips.end(),
                       [](const film::Clip& clip) { return clip.pieces.empty(); });
  });
}

}  // namespace

Result<SessionFilm> plan_film(const journal::SessionRecord& record, const journal::Register& known,
                              const journal::Build& build, const FilmWords& words) {
  if (const Done fits = check(words); !fits) return fits.error();
  std::vector<film::Camera> cameras = source_cameras_of(record, known).cameras;
  const auto range = range_of(cameras, words);
  if (!range) return range.error();
  SessionFilm film{{}, *range};
  film.plan.cameras = std::move(cameras);
  leave_out_unplaced(film);
  std::vector<SessionTime> moments;
  for (const journal::Mark& mark : record.marks) moments.push_back(mark.at);
  if (!words.mark_milli) moments.clear();
  film.plan.stretches =
      film::paced(*range, words.speed_milli, moments, words.mark_milli.value_or(words.speed_milli), around_marks);
  film.plan.rate = film::film_rate(film.plan.cameras, words.speed_milli);
  film.plan.width = words.width;
  film.plan.title = to_utf8(build.name) + ", " + jigtime::to_text(record.session.date);
  say_what_is_done(film, record, known);
  if (const Done chosen = choose_sound(film, words); !chosen) return chosen.error();
  return film;
}

}  // namespace jigtime::actions
