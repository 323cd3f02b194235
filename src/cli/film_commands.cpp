#include <cmath>

#include "actions/film.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct FilmArguments {
  std::string journal;
  std::string session;
  std::vector<std::string> to;  ///< the file, and the time where it ends: only one of them reads as a time
  std::string from;
  double speed = 1;
  double at_marks = 0;
  std::string sound;
  int width = 1280;
  bool replace = false;
};

struct Destination {
  std::string file;
  std::optional<SessionTime> until;
};

Result<Destination> destination_of(const std::vector<std::string>& words) {
  Destination found;
  for (const std::string& word : words) {
    const auto time = parse_clock_text(word);
    if (time && found.until) return Error{Code::invalid, "--to names two times: " + word + " is the second."};
    if (!time && !found.file.empty()) {
      return Error{Code::invalid, "--to names two files: " + found.file + " and " + word +
                                      ". A time is written H:MM:SS, with two digits each for minutes and seconds."};
    }
    if (time) found.until = SessionTime{*time};
    if (!time) found.file = word;
  }
  if (found.file.empty()) return Error{Code::invalid, "--to has to name the film's file, FILE.mp4."};
  return found;
}

int milli_of(double speed) {
  // Beyond any speed there is, in either direction; the action says what is allowed.
  if (!(speed > 0 && speed < 1e5)) return 0;
  return static_cast<int>(std::lround(speed * 1000));
}

Json json_of(const OpenSession& open, const FilmArguments& arguments, const actions::FilmMade& made) {
  Json json{{"session", to_text(open.session.date)},
            {"file", shown(made.file.string())},
            {"speed", arguments.speed},
            {"from_s", to_seconds(made.from)},
            {"to_s", to_seconds(made.until)},
            {"length_s", to_seconds(made.length)},
            {"pictures", made.pictures},
            {"rate", std::to_string(made.rate_num) + "/" + std::to_string(made.rate_den)},
            {"width", made.width},
            {"height", made.height},
            {"cameras", Json::array()},
            {"sound", made.sound.empty() ? Json(nullptr) : Json(shown(made.sound))},
            {"no_sound", made.no_sound},
            {"notes", Json::array()}};
  for (const std::string& camera : made.cameras) json["cameras"].push_back(shown(camera));
  for (const std::string& note : made.notes) json["notes"].push_back(shown(note));
  return json;
}

Exit run_film(Terminal& terminal, const FilmArguments& arguments) {
  const auto to = destination_of(arguments.to);
  if (!to) return terminal.fail(to.error());
  actions::FilmWords words;
  words.until = to->until;
  if (!arguments.from.empty()) {
    const auto from = time_of(arguments.from, "--from");
    if (!from) return terminal.fail(from.error());
    words.from = *from;
  }
  words.speed_milli = milli_of(arguments.speed);
  if (arguments.at_marks != 0) words.mark_milli = milli_of(arguments.at_marks);
  words.sound = arguments.sound;
  words.width = arguments.width;
  words.replace = arguments.replace;
  const auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto made = actions::make_session_film(open->store, open->session.id, to->file, words, terminal.watch());
  if (!made) return terminal.fail(made.error());
  terminal.say("Wrote " + shown(made->file.string()) + ": " + to_short_clock_text(made->length) + ", " +
               std::to_string(made->cameras.size()) + (made->cameras.size() == 1 ? " camera" : " cameras") +
               (made->sound.empty() ? "." : ", sound of " + shown(made->sound) + "."));
  if (!made->no_sound.empty()) terminal.say(made->no_sound);
  for (const std::string& note : made->notes) terminal.say(shown(note));
  terminal.print(json_of(*open, arguments, *made));
  return made->notes.empty() ? Exit::done : Exit::needs_builder;
}

}  // namespace

void add_film_commands(Commands& commands) {
  auto& film = commands.keep<FilmArguments>();
  CLI::App* app = commands.add(
      "film", "Make the film of a session: its cameras side by side, in step, with captions and chapters",
      "jigtime film elevator.jigtime --session 2026-03-14 --to saturday.mp4 --speed 8 --speed-at-marks 1\n"
      "  jigtime film elevator.jigtime --session 2026-03-14 --to rivet.mp4 --from 0:17:30 --to 0:18:10\n\n"
      "Sound is kept, at its pitch, from 0.25x to 2x. A film made here before is written over; another file only\n"
      "with --replace, and footage never.");
  app->add_option("JOURNAL", film.journal, "The journal file")->required();
  app->add_option("--session", film.session, "Day of the session, YYYY-MM-DD");
  app->add_option("--to", film.to, "The film's file, FILE.mp4; and once more, the session time where it ends")
      ->required()
      ->take_all();
  app->add_option("--from", film.from, "Session time where it begins, H:MM:SS[.mmm]");
  app->add_option("--speed", film.speed, "How many times as fast as it was filmed, 0.1 to 500")->capture_default_str();
  app->add_option("--speed-at-marks", film.at_marks, "Another speed from 3 s before to 3 s after every mark");
  app->add_option("--sound", film.sound, "Whose microphone is heard: a camera, or none");
  app->add_option("--width", film.width, "Of the whole picture, in pixels")->capture_default_str();
  app->add_flag("--replace", film.replace, "Write over a file that is no film made here");
  commands.run(app, [&film](Terminal& terminal) { return run_film(terminal, film); });
}

}  // namespace jigtime::cli
