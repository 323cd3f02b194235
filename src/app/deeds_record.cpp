// Edits of the record: each is one function of actions, done by the desk.
#include <algorithm>

#include "actions/by_hand.h"
#include "actions/items.h"
#include "actions/spans.h"
#include "actions/tagging.h"
#include "actions/why_there.h"
#include "actions/zone.h"
#include "app/deeds.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

std::string clock(SessionTime t) { return to_short_clock_text(t.time_since_epoch()); }

std::vector<journal::SpanId> ids_of(const std::set<std::int64_t>& spans) {
  std::vector<journal::SpanId> ids;
  for (const std::int64_t span : spans) ids.push_back(journal::SpanId{span});
  return ids;
}

std::vector<std::int64_t> spans_over(const BenchView& view, SessionTime at) {
  std::vector<std::int64_t> found;
  for (const journal::Span& span : view.record.spans) {
    if (span.begin < at && at < span.end) found.push_back(span.id.value);
  }
  return found;
}

Done split_one(store::Store& store, journal::SessionId session, std::int64_t span, SessionTime at) {
  const auto second = actions::split_span(store, session, journal::SpanId{span}, at);
  return second ? Done{} : Done{second.error()};
}

const journal::Proposal* proposal_of(const Model& model, std::int64_t id) {
  if (model.bench_view() == nullptr) return nullptr;
  for (const journal::Proposal& one : model.view().record.proposals) {
    if (one.id.value == id) return &one;
  }
  return nullptr;
}

std::chrono::year_month_day day_now(const Model& model) { return actions::today(model.snapshot->build.zone); }

}  // namespace

void add_span(Model& model, actions::SpanWords words) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it([session = model.bench.session,
                     words = std::move(words)](store::Store& store) -> Result<std::string> {
    const auto tagged = actions::add_spans(store, session, {words});
    if (!tagged) return Error{tagged.error().code(), say(Word::not_tagged, {tagged.error().message()})};
    std::string text = say(
        Word::tagged, {words.pause ? std::string{say(Word::a_break)} : words.task, clock(words.from), clock(words.to)});
    for (const std::string& created : tagged->created) text += " " + created;
    return text;
  });
}

void add_mark(Model& model, SessionTime at, std::string note) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it(
      [session = model.bench.session, at, note = std::move(note)](store::Store& store) -> Result<std::string> {
        const auto mark = actions::add_mark(store, session, at, note);
        if (!mark) return mark.error();
        return say(Word::marked, {clock(at), note});
      });
}

void split_spans(Model& model, SessionTime at) {
  if (!model.desk || model.bench_view() == nullptr) return;
  std::set<std::int64_t> spans = model.bench.selected;
  if (spans.empty()) {
    for (const std::int64_t id : spans_over(model.view(), at)) spans.insert(id);
  }
  if (spans.empty()) return model.tell({std::string{say(Word::nothing_to_split)}, true});
  model.desk->do_it([session = model.bench.session, spans, at](store::Store& store) -> Result<std::string> {
    const Done done = spans.size() == 1 ? split_one(store, session, *spans.begin(), at)
                                        : actions::split_spans(store, session, ids_of(spans), at);
    if (!done) return done.error();
    return say(Word::was_split, {clock(at)});
  });
}

void trim_span(Model& model, std::int64_t span, std::optional<SessionTime> from, std::optional<SessionTime> to) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it([session = model.bench.session, span, from, to](store::Store& store) -> Result<std::string> {
    const Done done = actions::trim_span(store, session, journal::SpanId{span}, from, to);
    if (!done) return done.error();
    return from ? say(Word::trimmed_begin, {clock(*from)}) : say(Word::trimmed_end, {clock(*to)});
  });
}

void remove_selected(Model& model) {
  if (!model.desk || model.bench_view() == nullptr) return;
  if (model.bench.selected.empty() && model.bench.mark) {
    model.desk->do_it(
        [session = model.bench.session, mark = *model.bench.mark](store::Store& store) -> Result<std::string> {
          const Done done = actions::delete_mark(store, session, journal::MarkId{mark});
          if (!done) return done.error();
          return std::string{say(Word::mark_deleted)};
        });
    model.bench.mark.reset();
    return;
  }
  if (model.bench.selected.empty()) return model.tell({std::string{say(Word::nothing_selected)}, true});
  model.desk->do_it(
      [session = model.bench.session, spans = model.bench.selected](store::Store& store) -> Result<std::string> {
        const Done done = spans.size() == 1 ? actions::delete_span(store, session, journal::SpanId{*spans.begin()})
                                            : actions::delete_spans(store, session, ids_of(spans));
        if (!done) return done.error();
        return counted(spans.size(), Word::span_deleted, Word::spans_deleted);
      });
  model.bench.selected.clear();
}

const journal::Mark* mark_of(const Model& model, std::int64_t id) {
  if (model.bench_view() == nullptr) return nullptr;
  for (const journal::Mark& one : model.view().record.marks) {
    if (one.id.value == id) return &one;
  }
  return nullptr;
}

void reword_mark(Model& model, std::int64_t id, std::string words) {
  const journal::Mark* mark = mark_of(model, id);
  if (!model.desk || mark == nullptr || mark->note == words) return;
  model.desk->do_it([session = model.bench.session, id = mark->id, at = mark->at,
                     words = std::move(words)](store::Store& store) -> Result<std::string> {
    const Done done = actions::change_mark(store, session, id, at, words);
    if (!done) return done.error();
    return say(Word::mark_changed, {clock(at), words});
  });
}

void copy_mark(Model& model, SessionTime to) {
  if (!model.desk || model.bench_view() == nullptr) return;
  if (!model.bench.mark) return model.tell({std::string{say(Word::select_mark)}, true});
  model.desk->do_it(
      [session = model.bench.session, mark = *model.bench.mark, to](store::Store& store) -> Result<std::string> {
        const auto copy = actions::copy_mark(store, session, journal::MarkId{mark}, to);
        if (!copy) return copy.error();
        return say(Word::mark_copied, {clock(to)});
      });
}

void open_item(Model& model, Waiting waiting, std::optional<SessionTime> at) {
  if (!model.desk) return;
  actions::ItemWords words;
  words.kind = waiting.kind;
  words.words = waiting.words;
  // A sealed session takes nothing more: what turns up while looking at it is opened by itself.
  if (at && model.bench_view() != nullptr && !model.sealed()) {
    words.session = model.bench.session;
    words.at = at;
  } else {
    words.on = day_now(model);
  }
  model.desk->do_it([words](store::Store& store) -> Result<std::string> {
    const auto item = actions::open_item(store, words);
    if (!item) return item.error();
    return say(Word::item_opened, {std::string{journal::to_text(words.kind)}, words.words});
  });
}

void close_item(Model& model, std::int64_t item, std::string words) {
  if (!model.desk) return;
  model.desk->do_it([item, words = std::move(words), on = day_now(model)](store::Store& store) -> Result<std::string> {
    const Done done = actions::close_item(store, journal::ItemId{item}, on, words);
    if (!done) return done.error();
    return std::string{say(Word::item_closed)};
  });
}

void reopen_item(Model& model, std::int64_t item) {
  if (!model.desk) return;
  model.desk->do_it([item](store::Store& store) -> Result<std::string> {
    const Done done = actions::reopen_item(store, journal::ItemId{item});
    if (!done) return done.error();
    return std::string{say(Word::item_reopened)};
  });
}

void accept_proposal(Model& model, std::int64_t id) {
  const journal::Proposal* proposal = proposal_of(model, id);
  if (proposal == nullptr) return;
  actions::SpanWords words;
  words.from = proposal->begin;
  words.to = proposal->end;
  words.pause = proposal->kind == journal::ProposalKind::pause;
  words.people = model.bench.composer.people();
  if (proposal->kind == journal::ProposalKind::signal) {
    return add_mark(model, proposal->begin, std::string{say(Word::heard_signal)});
  }
  if (!words.pause) {
    if (model.bench.composer.task().empty()) return model.tell({std::string{say(Word::needs_task)}, true});
    words.task = model.bench.composer.task();
    words.note = say(Word::heard_riveting, {std::to_string(proposal->count)});
  }
  add_span(model, std::move(words));
}

void ask_why(Model& model, std::int64_t id) {
  model.bench.why.clear();
  if (!model.desk || model.bench_view() == nullptr) return;
  const journal::Clip* clip = model.view().record.clip(journal::ClipId{id});
  if (clip == nullptr) return;
  model.desk->ask(
      [&model, id, session = model.bench.session, name = clip->name()](store::Store& store) -> std::function<void()> {
        auto told = actions::why_there(store, name, session);
        return [&model, id, told = std::move(told)] {
          if (model.bench.clip == id && told) model.bench.why = told->sentences;
        };
      });
}

void tie_clips(Model& model, const actions::FileMoment& a, const actions::FileMoment& b) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it([session = model.bench.session, a, b](store::Store& store) -> Result<std::string> {
    const auto tie = actions::tie_clips(store, session, a, b);
    if (!tie) return tie.error();
    return say(Word::tied, {in_words(a), in_words(b)});
  });
}

void untie_clips(Model& model, journal::TieId tie) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it([session = model.bench.session, tie](store::Store& store) -> Result<std::string> {
    if (const Done done = actions::untie_clips(store, session, tie); !done) return done.error();
    return std::string{say(Word::untied)};
  });
}

void place_clip(Model& model, std::int64_t id, SessionTime at) {
  if (model.bench_view() == nullptr) return;
  const journal::Clip* clip = model.view().record.clip(journal::ClipId{id});
  if (clip != nullptr) place_file(model, clip->name(), at);
}

void place_file(Model& model, std::string name, SessionTime at) {
  if (!model.desk || model.bench_view() == nullptr) return;
  model.desk->do_it(
      [session = model.bench.session, name = std::move(name), at](store::Store& store) -> Result<std::string> {
        const Done done = actions::place_clip(store, session, name, at);
        if (!done) return done.error();
        return say(Word::clip_moved, {to_utf8(name), to_clock_text(at)});
      });
}

}  // namespace jigtime::app
