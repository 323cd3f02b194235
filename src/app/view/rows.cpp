#include "app/view/rows.h"

#include <algorithm>

#include "app/view/words.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

/// A moment is drawn as a short range.
SessionRange moment(SessionTime at) { return *SessionRange::make(at, at + Length{1}); }

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += (text.empty() ? "" : "\n") + line;
  return text;
}

ItemLook look_of(journal::Basis basis) {
  switch (basis) {
    case journal::Basis::manual: return ItemLook::by_hand;
    case journal::Basis::clock: return ItemLook::by_clock;
    default: return ItemLook::by_sound;
  }
}

std::string clip_words(const report::ClipBar& clip) {
  std::string text =
      joined(clip.files) + "\n" +
      say(Word::clip_placed, {std::string{report::basis_words(clip.basis)}, report::sigma_words(clip.sigma)});
  if (clip.doubt == report::Doubt::large) text += "\n" + std::string{say(Word::clip_doubt)};
  const std::string notes = joined(clip.notes);
  return notes.empty() ? text : text + "\n" + notes;
}

void add_clip(StripRow& row, const report::ClipBar& clip) {
  const bool weak = clip.doubt == report::Doubt::large;
  for (const SessionRange& piece : clip.pieces) {
    StripItem item;
    item.kind = ItemKind::clip;
    item.look = look_of(clip.basis);
    item.range = piece;
    item.id = clip.id.value;
    item.label = clip.name;
    item.about = clip_words(clip);
    item.sub_row = clip.row;
    item.weak = weak;
    if (weak) item.doubt = clip.sigma;
    for (const report::ClipBar::Vague& vague : clip.vague) {
      if (weak || vague.range != piece) continue;
      item.vague = true;
      item.doubt = vague.sigma;
      item.about = say(Word::clip_vague, {report::sigma_words(vague.sigma)}) + "\n" + item.about;
    }
    row.items.push_back(std::move(item));
  }
  row.sub_rows = std::max(row.sub_rows, clip.row + 1);
}

void add_dropouts(StripRow& row, const std::vector<report::Dropout>& dropouts) {
  std::int64_t number = 0;
  for (const report::Dropout& dropout : dropouts) {
    StripItem item;
    item.kind = ItemKind::dropout;
    item.look = ItemLook::dropout;
    item.range = dropout.range;
    item.id = ++number;
    item.label = say(Word::off_for, {report::length_words(dropout.range.length())});
    item.about = say(Word::off_from_to, {row.name, to_short_clock_text(dropout.range.begin().time_since_epoch()),
                                         to_short_clock_text(dropout.range.end().time_since_epoch())});
    item.sub_row = dropout.row;
    row.items.push_back(std::move(item));
  }
}

StripRow camera_row(const report::CameraLane& lane, const journal::Register& known) {
  StripRow row;
  row.kind = RowKind::camera;
  row.name = lane.name;
  row.about = lane.clips.empty() ? std::string{say(Word::lane_empty)} : std::string{};
  if (const journal::Camera* camera = known.camera(std::string_view{lane.name})) row.camera = camera->id;
  for (const report::ClipBar& clip : lane.clips) add_clip(row, clip);
  add_dropouts(row, lane.dropouts);
  return row;
}

std::string set_words(const journal::Span& span) {
  std::string text;
  for (const journal::FastenerLine& line : span.fasteners) {
    text +=
        "\n" + say(Word::fastener_shown, {line.callout, std::to_string(line.set), std::string{to_text(line.method)}});
    if (line.drilled > 0) text += ", " + say(Word::drilled_shown, {std::to_string(line.drilled)});
  }
  return text;
}

StripItem span_item(const report::SpanBar& bar, const journal::Span* span) {
  StripItem item;
  item.kind = ItemKind::span;
  item.look = bar.kind == journal::SpanKind::pause ? ItemLook::pause : ItemLook::work;
  item.range = bar.range;
  item.id = bar.id.value;
  item.label = bar.title;
  item.sub_row = bar.row;
  item.about = bar.title + "\n" + to_short_clock_text(bar.range.begin().time_since_epoch()) + " - " +
               to_short_clock_text(bar.range.end().time_since_epoch()) + ", " +
               report::length_words(bar.range.length());
  if (span != nullptr) {
    item.tone = tone_of(span->task);
    item.about += set_words(*span);
  }
  if (!bar.note.empty()) item.about += "\n" + bar.note;
  return item;
}

StripRow person_row(const report::PeopleRow& people, const journal::SessionRecord& record) {
  StripRow row;
  row.kind = RowKind::person;
  row.name = people.name;
  row.about = people.about;
  for (const report::SpanBar& bar : people.spans) {
    const auto span = std::find_if(record.spans.begin(), record.spans.end(),
                                   [&](const journal::Span& one) { return one.id == bar.id; });
    row.items.push_back(span_item(bar, span == record.spans.end() ? nullptr : &*span));
    row.sub_rows = std::max(row.sub_rows, bar.row + 1);
  }
  return row;
}

StripRow marks_row(const report::Day& day) {
  StripRow row;
  row.kind = RowKind::marks;
  row.name = say(Word::row_marks);
  for (const report::MarkFlag& mark : day.marks) {
    StripItem item;
    item.kind = ItemKind::mark;
    item.look = ItemLook::mark;
    item.range = moment(mark.at);
    item.id = mark.id.value;
    item.label = mark.words;
    item.about = to_short_clock_text(mark.at.time_since_epoch()) + "\n" + mark.words;
    row.items.push_back(std::move(item));
  }
  return row;
}

StripItem heard_item(const journal::Proposal& proposal, SessionRange range) {
  StripItem item;
  item.kind = ItemKind::proposal;
  item.range = range;
  item.id = proposal.id.value;
  const std::string count = std::to_string(proposal.count);
  switch (proposal.kind) {
    case journal::ProposalKind::riveting:
      item.look = ItemLook::riveting;
      item.label = say(Word::heard_riveting, {count});
      break;
    case journal::ProposalKind::pause:
      item.look = ItemLook::quiet;
      item.label = say(Word::heard_quiet);
      break;
    case journal::ProposalKind::signal:
      item.look = ItemLook::signal;
      item.label = say(Word::heard_signal);
      break;
  }
  item.about = item.label + "\n" + to_short_clock_text(range.begin().time_since_epoch()) + " - " +
               to_short_clock_text(range.end().time_since_epoch()) + "\n" +
               std::string{say(Word::heard_counts_for_nothing)};
  return item;
}

StripRow heard_row(const journal::SessionRecord& record) {
  StripRow row;
  row.kind = RowKind::heard;
  row.name = say(Word::row_heard);
  for (const journal::Proposal& proposal : record.proposals) {
    if (const auto range = SessionRange::make(proposal.begin, proposal.end)) {
      row.items.push_back(heard_item(proposal, *range));
    }
  }
  return row;
}

void finish(StripRow& row) {
  std::stable_sort(row.items.begin(), row.items.end(),
                   [](const StripItem& a, const StripItem& b) { return a.range.begin() < b.range.begin(); });
  for (const StripItem& item : row.items) row.longest = std::max(row.longest, item.range.length() + 4 * item.doubt);
}

}  // namespace

int tone_of(std::optional<journal::TaskId> task) {
  return task ? static_cast<int>(static_cast<std::uint64_t>(task->value) % std::uint64_t{work_tones}) : 0;
}

StripRows rows_of(const report::Day& day, const journal::Register& known, const journal::SessionRecord& record) {
  StripRows all;
  all.rows.push_back(marks_row(day));
  for (const report::CameraLane& lane : day.cameras) all.rows.push_back(camera_row(lane, known));
  for (const report::PeopleRow& people : day.people) all.rows.push_back(person_row(people, record));
  if (!record.proposals.empty()) all.rows.push_back(heard_row(record));
  SessionTime last{};
  for (StripRow& row : all.rows) {
    finish(row);
    for (const StripItem& item : row.items) last = std::max(last, item.range.end());
  }
  all.empty = last == SessionTime{};
  if (const auto whole = SessionRange::make(SessionTime{}, last)) all.whole = *whole;
  return all;
}

}  // namespace jigtime::app
