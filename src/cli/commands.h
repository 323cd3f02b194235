// The commands, by what they are about. Each adds itself to the parser and to the list of what can run.
// Begin reading at: Command; main.cpp runs the one that was parsed.
#pragma once

#include <CLI/CLI.hpp>
#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/time.h"
#include "cli/terminal.h"

namespace jigtime::cli {

struct Command {
  CLI::App* app = nullptr;
  std::function<Exit(Terminal&)> run;
};

/// All commands of one parser. Options are bound to values that live as long as this.
class Commands {
 public:
  explicit Commands(CLI::App& parser) : parser_{parser} {}

  /// `example` is shown at the end of --help. Adds --json.
  CLI::App* add(const std::string& name, const std::string& what, const std::string& example);
  void run(CLI::App* app, std::function<Exit(Terminal&)> deed) { commands_.push_back({app, std::move(deed)}); }

  bool json() const { return json_; }
  const std::vector<Command>& all() const { return commands_; }

  /// A value that options write to, owned by this.
  template <class T>
  T& keep() {
    auto value = std::make_shared<T>();
    kept_.push_back(value);
    return *value;
  }

 private:
  CLI::App& parser_;
  std::vector<Command> commands_;
  std::vector<std::shared_ptr<void>> kept_;
  bool json_ = false;
};

void add_journal_commands(Commands& commands);    ///< new, show
void add_settings_commands(Commands& commands);   ///< build, session
void add_register_commands(Commands& commands);   ///< person, assembly, task, worked
void add_span_commands(Commands& commands);       ///< span, unmark
void add_waiting_commands(Commands& commands);    ///< item, inspection
void add_keeping_commands(Commands& commands);    ///< footage
void add_footage_commands(Commands& commands);    ///< import, align, place, tie, detect
void add_tag_commands(Commands& commands);        ///< tag, tags, mark
void add_history_commands(Commands& commands);    ///< undo, redo, history, backup
void add_record_commands(Commands& commands);     ///< seal, verify, find, export
void add_book_commands(Commands& commands);       ///< book
void add_seal_commands(Commands& commands);       ///< amend, key, sign
void add_tally_commands(Commands& commands);      ///< hours
void add_fastener_commands(Commands& commands);   ///< rivets, callout, noise
void add_photo_commands(Commands& commands);      ///< photos, stills
void add_film_commands(Commands& commands);       ///< film
void add_checklist_commands(Commands& commands);  ///< checklist, regime

/// A date from the command line; Code::invalid otherwise.
Result<std::chrono::year_month_day> date_of(const std::string& text);
/// A time H:MM:SS[.mmm] from the command line; Code::invalid otherwise.
Result<SessionTime> time_of(const std::string& text, std::string_view option);

}  // namespace jigtime::cli
