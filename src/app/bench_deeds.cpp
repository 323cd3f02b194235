// What the keys and buttons of the bench do.
#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/view/fastener_entry.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

using std::chrono::seconds;

void begin_span(Model& model, bool pause) {
  if (model.fixed()) return model.tell({model.why_fixed(), true});
  auto ended = model.bench.composer.begin(model.playback.position(), pause);
  if (!ended) return model.tell({ended.error().message(), true});
  if (*ended) add_span(model, std::move(**ended));
}

void end_span(Model& model) {
  auto words = model.bench.composer.end(model.playback.position());
  if (!words) return model.tell({words.error().message(), true});
  add_span(model, std::move(*words));
}

void drop(Model& model) {
  if (model.bench.composer.drop()) return model.tell({std::string{say(Word::dropped)}, false});
  model.bench.selected.clear();
  model.bench.clip.reset();
  model.bench.proposal.reset();
  model.bench.mark.reset();
}

void choose_recent(Model& model, int number) {
  const auto& titles = model.view().recent;
  if (number < std::ssize(titles)) model.bench.composer.choose_task(titles[static_cast<std::size_t>(number)]);
}

void toggle_person(Model& model, int number) {
  int index = 0;
  for (const journal::Person& person : model.snapshot->known.people) {
    if (person.shelf.archived || person.shelf.merged) continue;
    if (index++ == number) model.bench.composer.toggle_person(person.name);
  }
}

void move_by(Model& model, Length by) { model.playback.show(std::max(SessionTime{}, model.playback.position() + by)); }

void change_speed(Model& model, int direction) {
  const double speed = next_speed(model.playback.speed(), direction);
  const bool ran = model.playback.playing();
  model.playback.play(speed);
  if (!ran) model.playback.pause();
}

void jump(Model& model, Direction direction) {
  const auto to = next_moment(model.view().rows, model.bench.jump, direction, model.playback.position());
  if (!to)
    return model.tell({std::string{say(direction == Direction::forward ? Word::no_next : Word::no_before)}, false});
  model.playback.show(*to);
}

void zoom(Model& model, double factor) {
  model.bench.window = zoomed(model.bench.window, factor, model.playback.position(), model.view().rows.whole);
}

void trim_selected(Model& model, bool begin) {
  if (model.bench.selected.size() != 1) return model.tell({std::string{say(Word::select_one)}, true});
  const std::int64_t span = *model.bench.selected.begin();
  const SessionTime at = model.playback.position();
  if (begin) {
    trim_span(model, span, at, std::nullopt);
  } else {
    trim_span(model, span, std::nullopt, at);
  }
}

void accept(Model& model) {
  const SessionTime now = model.playback.position();
  if (!model.bench.proposal) {
    for (const journal::Proposal& one : model.view().record.proposals) {
      if (one.begin <= now && now < one.end) model.bench.proposal = one.id.value;
    }
  }
  if (!model.bench.proposal) return model.tell({std::string{say(Word::nothing_heard_here)}, true});
  accept_proposal(model, *model.bench.proposal);
  model.bench.proposal.reset();
}

void begin_rewording(Model& model) {
  const journal::Mark* mark = model.bench.mark ? mark_of(model, *model.bench.mark) : nullptr;
  if (mark == nullptr) return model.tell({std::string{say(Word::select_mark_reword)}, true});
  begin_entry(model, EntryKind::reword);
  if (!model.bench.entry.open()) return;
  model.bench.entry.about = mark->id.value;
  model.bench.entry.at = mark->at;
  model.bench.entry.text = mark->note;
}

void next_jump_kind(BenchState& bench) { bench.jump = static_cast<JumpTo>((static_cast<int>(bench.jump) + 1) % 4); }

void at_film(Model& model, const Meaning& meaning) {
  Playback& film = model.playback;
  switch (meaning.deed) {
    case Deed::play: return film.playing() ? film.pause() : film.play(film.speed());
    case Deed::slower: return change_speed(model, -1);
    case Deed::faster: return change_speed(model, 1);
    case Deed::normal_speed: film.playing() ? film.play(1) : (film.play(1), film.pause()); return;
    case Deed::back_5: return move_by(model, -seconds{5});
    case Deed::on_5: return move_by(model, seconds{5});
    case Deed::back_60: return move_by(model, -seconds{60});
    case Deed::on_60: return move_by(model, seconds{60});
    case Deed::picture_back: return film.step(-1);
    case Deed::picture_on: return film.step(1);
    case Deed::day_begin: return film.show(SessionTime{});
    case Deed::day_end: return film.show(model.view().rows.whole.end());
    case Deed::jump_back: return jump(model, Direction::back);
    case Deed::jump_on: return jump(model, Direction::forward);
    case Deed::jump_kind: return next_jump_kind(model.bench);
    case Deed::sound_next: return film.next_sound();
    case Deed::zoom_in: return zoom(model, 0.5);
    case Deed::zoom_out: return zoom(model, 2);
    case Deed::zoom_day: model.bench.fit = true; return;
    default: return;
  }
}

}  // namespace

void begin_entry(Model& model, EntryKind kind) {
  // What turns up while a sealed day is looked at can wait all the same.
  const bool taken = kind == EntryKind::go_to || (kind == EntryKind::waits && model.sealed());
  if (!taken && model.fixed()) return model.tell({model.why_fixed(), true});
  model.bench.entry = Entry{kind, {}, model.playback.position(), {}, 0, -1};
  if (kind == EntryKind::note) model.bench.entry.text = model.bench.composer.note();
  model.bench.entry_opened = true;
}

void take_entry(Model& model) {
  Entry& entry = model.bench.entry;
  const std::string text{trimmed(entry.text)};
  entry.why_not.clear();
  switch (entry.kind) {
    case EntryKind::task:
      if (text.empty()) break;
      model.bench.composer.choose_task(text);
      break;
    case EntryKind::person:
      if (!text.empty() && !model.bench.composer.names(text)) model.bench.composer.toggle_person(text);
      break;
    case EntryKind::fasteners: {
      if (text.empty()) break;
      const auto likely = likely_callouts(model.snapshot->known, model.view().record, model.bench.composer.task());
      const auto line = read_fasteners(text, likely);
      if (!line) {
        entry.why_not = line.error().message();
        return;
      }
      model.bench.composer.add_fasteners(*line);
      break;
    }
    case EntryKind::note: model.bench.composer.set_note(text); break;
    case EntryKind::mark:
      if (!text.empty()) add_mark(model, entry.at, text);
      break;
    case EntryKind::reword:
      if (!text.empty()) reword_mark(model, entry.about, text);
      break;
    case EntryKind::waits: {
      const auto waiting = read_waiting(text);
      if (!waiting) {
        entry.why_not = waiting.error().message();
        return;
      }
      open_item(model, *waiting, entry.at);
      break;
    }
    case EntryKind::go_to: {
      const auto moment = read_moment(text, model.playback.position());
      if (!moment) {
        entry.why_not = moment.error().message();
        return;
      }
      model.playback.show(*moment);
      break;
    }
    case EntryKind::none: break;
  }
  entry = Entry{};
}

void do_at_bench(Model& model, const Meaning& meaning) {
  if (model.bench_view() == nullptr) return;
  switch (meaning.deed) {
    case Deed::begin: return begin_span(model, false);
    case Deed::pause: return begin_span(model, true);
    case Deed::end: return end_span(model);
    case Deed::drop: return drop(model);
    case Deed::recent_task: return choose_recent(model, meaning.number);
    case Deed::person: return toggle_person(model, meaning.number);
    case Deed::task_typed: return begin_entry(model, EntryKind::task);
    case Deed::person_typed: return begin_entry(model, EntryKind::person);
    case Deed::fasteners: return begin_entry(model, EntryKind::fasteners);
    case Deed::note: return begin_entry(model, EntryKind::note);
    case Deed::mark: return begin_entry(model, EntryKind::mark);
    case Deed::waits: return begin_entry(model, EntryKind::waits);
    case Deed::go_to_time: return begin_entry(model, EntryKind::go_to);
    case Deed::split: return split_spans(model, model.playback.position());
    case Deed::trim_begin: return trim_selected(model, true);
    case Deed::trim_end: return trim_selected(model, false);
    case Deed::remove: return remove_selected(model);
    case Deed::tie: return tie_here(model);
    case Deed::reword_mark: return begin_rewording(model);
    case Deed::copy_mark: return copy_mark(model, model.playback.position());
    case Deed::accept: return accept(model);
    default: return at_film(model, meaning);
  }
}

}  // namespace jigtime::app
