// What a command says, and how: text or one JSON document on stdout; progress and messages on stderr.
#pragma once

#include <nlohmann/json.hpp>
#include <stop_token>
#include <string>
#include <string_view>

#include "actions/watch.h"
#include "base/result.h"

namespace jigtime::cli {

using Json = nlohmann::ordered_json;

/// As the contract has it.
enum class Exit { done = 0, needs_builder = 1, usage = 2, failed = 3 };

class Terminal {
 public:
  Terminal(bool json, std::stop_token stop);
  ~Terminal();
  Terminal(const Terminal&) = delete;
  Terminal& operator=(const Terminal&) = delete;

  bool json() const { return json_; }
  /// Draws a bar on stderr when that is a terminal; silent otherwise.
  actions::Watch watch();

  /// One line on stdout, only when no JSON is asked for.
  void say(std::string_view line);
  /// The document, only when JSON is asked for. Once a command.
  void print(const Json& document);
  /// One line on stderr, always.
  void note(std::string_view line);

  /// Reports a failure on stderr and, when JSON is asked for, as {"error":{"code","message"}}. Code::invalid is what
  /// was wrong on the command line itself, whatever the journal holds; everything else is a failure.
  Exit fail(const Error& error);
  /// As fail, but a failure whatever the code: what was wrong stood in a file.
  Exit refuse(const Error& error);

 private:
  Exit report(const Error& error, Exit status);
  void clear_bar();

  bool json_;
  bool draws_bar_;
  bool bar_drawn_ = false;
  int last_percent_ = -1;
  std::stop_token stop_;
};

/// Ctrl-C and termination ask the command to stop; it ends as soon as it can with the journal sound. Must be made
/// before any other thread begins, and lives as long as the program.
std::stop_token stop_on_interrupt();

/// For file names and other foreign bytes in documents and on screen.
std::string shown(const std::string& bytes);

}  // namespace jigtime::cli
