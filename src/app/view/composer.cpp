#include "app/view/composer.h"

#include <algorithm>

#include "app/view/words.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {

Result<std::optional<actions::SpanWords>> Composer::begin(SessionTime at, bool pause) {
  std::optional<actions::SpanWords> ended;
  if (running()) {
    auto before = end(at);
    if (!before) return before.error();
    ended = std::move(*before);
  }
  begun_ = at;
  pause_ = pause;
  return ended;
}

Result<actions::SpanWords> Composer::end(SessionTime at) {
  if (!begun_) return Error{Code::invalid, std::string{say(Word::nothing_runs)}};
  if (!pause_ && task_.empty()) return Error{Code::invalid, std::string{say(Word::needs_task)}};
  if (at <= *begun_) {
    return Error{Code::invalid, say(Word::ends_before, {to_short_clock_text(begun_->time_since_epoch())})};
  }
  actions::SpanWords words;
  words.from = *begun_;
  words.to = at;
  words.pause = pause_;
  words.people = people_;
  words.note = note_;
  if (!pause_) {
    words.task = task_;
    words.fasteners = fasteners_;
    fasteners_.clear();
  }
  note_.clear();
  begun_.reset();
  return words;
}

bool Composer::drop() {
  const bool ran = running();
  begun_.reset();
  return ran;
}

void Composer::choose_task(std::string title) {
  task_ = std::move(title);
  pause_ = false;
}

void Composer::toggle_person(const std::string& name) {
  const auto at = std::find(people_.begin(), people_.end(), name);
  if (at == people_.end()) {
    people_.push_back(name);
  } else {
    people_.erase(at);
  }
}

bool Composer::names(const std::string& person) const {
  return std::find(people_.begin(), people_.end(), person) != people_.end();
}

std::string Composer::in_words(SessionTime now) const {
  std::string what = pause_ && running() ? std::string{say(Word::a_break)} : task_;
  if (what.empty()) what = say(Word::no_task_yet);
  std::string text;
  if (running()) {
    const auto so_far = std::chrono::floor<std::chrono::seconds>(std::max(now - *begun_, Length{0}));
    const std::string begin = to_short_clock_text(begun_->time_since_epoch());
    text = so_far.count() == 0 ? say(Word::tagging_from, {begin, what})
                               : say(Word::tagging_since, {begin, report::length_words(so_far), what});
  } else {
    text = say(Word::next_span, {what});
  }
  if (!people_.empty()) text += ", " + listed(people_);
  if (!(pause_ && running())) {
    for (const std::string& line : fasteners_) text += ", " + line;
  }
  if (!note_.empty()) text += ", \"" + note_ + "\"";
  return text + ".";
}

std::vector<std::string> recent_tasks(const journal::Register& known, const journal::SessionRecord& record) {
  std::vector<std::string> titles;
  const auto offer = [&titles](const journal::Task* task) {
    if (task == nullptr || task->shelf.archived || task->shelf.merged) return;
    if (std::find(titles.begin(), titles.end(), task->title) == titles.end()) titles.push_back(task->title);
  };
  std::vector<journal::Span> latest = record.spans;
  std::stable_sort(latest.begin(), latest.end(),
                   [](const journal::Span& a, const journal::Span& b) { return a.id.value > b.id.value; });
  for (const journal::Span& span : latest) {
    if (span.task) offer(known.task(known.meant(*span.task)));
  }
  for (auto task = known.tasks.rbegin(); task != known.tasks.rend(); ++task) offer(&*task);
  return titles;
}

}  // namespace jigtime::app
