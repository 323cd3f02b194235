#include "actions/by_hand.h"

#include <algorithm>

#include "base/text.h"

namespace jigtime::actions {
namespace {

struct Found {
  const journal::Clip* clip = nullptr;
  const journal::Part* part = nullptr;
};

Result<Found> find_file(const journal::SessionRecord& record, const std::string& file_name) {
  std::vector<std::string> names;
  for (const journal::Clip& clip : record.clips) {
    for (const journal::Part& part : clip.parts) {
      if (part.path.filename() == file_name) return Found{&clip, &part};
      names.push_back(part.path.filename().string());
    }
  }
  if (names.size() > 12) {
    names.resize(12);
    names.emplace_back("more");
  }
  return Error{Code::not_found, "The session of " + to_text(record.session.date) + " has no file \"" + file_name +
                                    "\". It has " + (names.empty() ? "no footage" : listed(names)) + "."};
}

Result<ClipTime> moment_in(const Found& file, const FileMoment& moment) {
  if (moment.at >= Length{0} && moment.at <= file.part->length) return file.part->clip_from + moment.at;
  return Error{Code::conflict, moment.file_name + " lasts " + to_clock_text(file.part->length) + "; " +
                                   to_clock_text(moment.at) + " is not in it. Count from the file's first picture."};
}

}  // namespace

Done place_clip(store::Store& store, journal::SessionId id, const std::string& file_name, SessionTime at) {
  const auto record = store.record(id);
  if (!record) return record.error();
  const auto file = find_file(*record, file_name);
  if (!file) return file.error();
  std::int64_t rate_ppb = 0;
  for (const journal::CameraClock& clock : record->clocks) {
    if (clock.camera == file->clip->camera) rate_ppb = clock.rate_ppb;
  }
  Piece piece{ClipTime{}, ClipTime{file->clip->length}, SessionTime{}, rate_ppb, Length{0}};
  // The file may be a later part of its recording: the clip begins so much earlier.
  piece.session_start = at - (piece.to_session(file->part->clip_from) - SessionTime{});
  if (piece.session_start < SessionTime{}) {
    return Error{Code::invalid, "There the recording would begin before the session does (" +
                                    to_clock_text(piece.session_start) + "). " + file_name + " begins " +
                                    to_clock_text(file->part->clip_from.time_since_epoch()) + " into its recording."};
  }
  const journal::Placement placement{file->clip->id, journal::Basis::manual, {piece}, {}, {"It was placed by hand."}};
  return store.edit("place a clip by hand", [&](store::Edit& edit) { return edit.set_placement(placement); });
}

Result<journal::Tie> tie_clips(store::Store& store, journal::SessionId session, const FileMoment& a,
                               const FileMoment& b) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto file_a = find_file(*record, a.file_name), file_b = find_file(*record, b.file_name);
  if (!file_a) return file_a.error();
  if (!file_b) return file_b.error();
  if (file_a->clip->camera == file_b->clip->camera) {
    return Error{Code::conflict,
                 a.file_name + " and " + b.file_name +
                     " are of one camera, which is never in two places. Name a file of another camera."};
  }
  const auto at_a = moment_in(*file_a, a), at_b = moment_in(*file_b, b);
  if (!at_a) return at_a.error();
  if (!at_b) return at_b.error();
  journal::Tie tie{{}, file_a->clip->id, *at_a, file_b->clip->id, *at_b};
  const Done done = store.edit("tie two clips", [&](store::Edit& edit) -> Done {
    const auto id = edit.add(tie);
    if (!id) return id.error();
    tie.id = *id;
    return {};
  });
  if (!done) return done.error();
  return tie;
}

Done untie_clips(store::Store& store, journal::SessionId session, journal::TieId tie) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto is_it = [tie](const journal::Tie& one) { return one.id == tie; };
  if (std::none_of(record->ties.begin(), record->ties.end(), is_it)) {
    return Error{Code::not_found, "The session of " + to_text(record->session.date) + " has no tie " +
                                      std::to_string(tie.value) + ". \"jigtime tie\" without more lists them."};
  }
  return store.edit("untie two clips", [&](store::Edit& edit) { return edit.remove(tie); });
}

FileMoment file_moment(const journal::SessionRecord& record, journal::ClipId clip, ClipTime at) {
  const journal::Clip& holder = *record.clip(clip);
  const journal::Part* part = &holder.parts.front();
  for (const journal::Part& one : holder.parts) {
    if (one.clip_from <= at) part = &one;
  }
  return {part->path.filename().string(), at - part->clip_from};
}

}  // namespace jigtime::actions
