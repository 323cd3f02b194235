#include "app/view/tie_ends.h"

#include "app/view/words.h"
#include "base/text.h"

namespace jigtime::app {

std::optional<TieEnd> tie_end(const journal::SessionRecord& record, std::int64_t id, SessionTime t) {
  const journal::Clip* clip = record.clip(journal::ClipId{id});
  const journal::Placement* placement = record.placement(journal::ClipId{id});
  if (clip == nullptr || placement == nullptr) return std::nullopt;
  for (const Piece& piece : placement->pieces) {
    if (t < piece.session_start || t >= piece.session_end()) continue;
    return TieEnd{id, clip->camera.value, actions::file_moment(record, clip->id, piece.to_clip(t))};
  }
  return std::nullopt;
}

std::vector<TieLine> ties_of(const journal::SessionRecord& record, std::int64_t clip) {
  std::vector<TieLine> lines;
  for (const journal::Tie& tie : record.ties) {
    if (tie.clip_a.value != clip && tie.clip_b.value != clip) continue;
    lines.push_back({tie.id, in_words(actions::file_moment(record, tie.clip_a, tie.at_a)),
                     in_words(actions::file_moment(record, tie.clip_b, tie.at_b))});
  }
  return lines;
}

std::string in_words(const actions::FileMoment& moment) {
  return say(Word::tie_moment, {to_utf8(moment.file_name), to_clock_text(moment.at)});
}

}  // namespace jigtime::app
