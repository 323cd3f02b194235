// The span that is being tagged while the film runs: one key begins it, one ends it, everything else may be said in
// between or before.
// Must never know: ImGui, the store, what plays.
// Begin reading at: Composer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "actions/tagging.h"
#include "base/result.h"
#include "base/time.h"

namespace jigtime::app {

/// What the next span will say; stays from one span to the next, save fasteners and note, which belong to one.
class Composer {
 public:
  /// Begins a span at `at`. One that runs already ends there first and is handed back: what was done is never lost.
  /// Code::invalid when that cannot be (no task, or `at` not behind its begin): it then goes on as it was.
  Result<std::optional<actions::SpanWords>> begin(SessionTime at, bool pause);
  /// Ends it. Code::invalid without a running one, without a task, or when `at` is not behind its begin; it then runs
  /// on, so that the builder can say what is missing.
  Result<actions::SpanWords> end(SessionTime at);
  /// Forgets the running span; false when none ran.
  bool drop();

  /// The task of the running span, or of the next one.
  void choose_task(std::string title);
  void toggle_person(const std::string& name);
  void add_fasteners(std::string words) { fasteners_.push_back(std::move(words)); }
  void take_back_fasteners() {
    if (!fasteners_.empty()) fasteners_.pop_back();
  }
  void set_note(std::string note) { note_ = std::move(note); }

  bool running() const { return begun_.has_value(); }
  bool pause() const { return pause_; }
  std::optional<SessionTime> begun() const { return begun_; }
  const std::string& task() const { return task_; }
  const std::vector<std::string>& people() const { return people_; }
  const std::vector<std::string>& fasteners() const { return fasteners_; }
  const std::string& note() const { return note_; }
  bool names(const std::string& person) const;

  /// What is being tagged, as a sentence for the screen: "Tagging since 0:12:03: Rivet the skin, Tova, 3-4 x 72."
  std::string in_words(SessionTime now) const;

 private:
  std::optional<SessionTime> begun_;
  bool pause_ = false;
  std::string task_;
  std::vector<std::string> people_;
  std::vector<std::string> fasteners_;
  std::string note_;
};

/// Titles for the number keys 1 to 9: the latest in this session first, then those of the register, each once. Those
/// put away are not offered.
std::vector<std::string> recent_tasks(const journal::Register& known, const journal::SessionRecord& record);

}  // namespace jigtime::app
