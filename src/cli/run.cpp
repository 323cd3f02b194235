#include "cli/run.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>

#include "cli/commands.h"

namespace jigtime::cli {
namespace {

int parse_failed(const CLI::App& parser, const CLI::ParseError& error, bool json) {
  if (error.get_exit_code() == 0) return parser.exit(error);  // --help, --version
  std::cerr << "jigtime: " << error.what() << "\nTry --help behind the command.\n";
  if (json) {
    Terminal quiet{true, {}};
    quiet.print({{"error", {{"code", "invalid"}, {"message", error.what()}}}});
  }
  return static_cast<int>(Exit::usage);
}

/// "help" and "help COMMAND" are asked for as often as "--help".
std::vector<std::string> without_help_word(int argc, char** argv) {
  std::vector<std::string> words(argv + 1, argv + argc);
  if (words.empty() || words.front() != "help" || words.size() > 2) return words;
  words.erase(words.begin());
  words.emplace_back("--help");
  return words;
}

}  // namespace

int run(int argc, char** argv) {
  CLI::App parser{"Jigtime lines up a builder's footage on one clock and turns it into hours, counts and evidence.",
                  "jigtime"};
  parser.set_version_flag("--version", "jigtime " JIGTIME_VERSION);
  parser.footer(
      "'jigtime' alone, or with a journal behind it, opens the window.\n"
      "T is H:MM:SS[.mmm] on the session clock. Exit status: 0 done; 1 done, but something needs you; 2 wrong usage;\n"
      "3 failed, nothing changed. 'jigtime COMMAND --help' shows an example of each.");
  parser.require_subcommand(1);
  Commands commands{parser};
  add_journal_commands(commands);
  add_settings_commands(commands);
  add_register_commands(commands);
  add_span_commands(commands);
  add_waiting_commands(commands);
  add_keeping_commands(commands);
  add_footage_commands(commands);
  add_tag_commands(commands);
  add_tally_commands(commands);
  add_fastener_commands(commands);
  add_checklist_commands(commands);
  add_film_commands(commands);
  add_photo_commands(commands);
  add_record_commands(commands);
  add_book_commands(commands);
  add_seal_commands(commands);
  add_history_commands(commands);
  try {
    std::vector<std::string> words = without_help_word(argc, argv);
    std::reverse(words.begin(), words.end());  // as the library wants them
    parser.parse(std::move(words));
  } catch (const CLI::ParseError& error) {
    return parse_failed(parser, error, commands.json());
  }
  Terminal terminal{commands.json(), stop_on_interrupt()};
  for (const Command& command : commands.all()) {
    if (command.app->parsed()) return static_cast<int>(command.run(terminal));
  }
  return static_cast<int>(Exit::usage);
}

}  // namespace jigtime::cli
