#include "actions/line_up.h"

#include <algorithm>
#include <cmath>
#include <mutex>

#include "actions/cache.h"
#include "actions/clocks.h"
#include "actions/describe.h"
#include "actions/listen.h"
#include "actions/pair_shelf.h"
#include "actions/parallel.h"
#include "actions/scan.h"
#include "actions/zone.h"
#include "base/text.h"
#include "sync/line_up.h"

namespace jigtime::actions {
namespace {

/// Share of the progress bar that listening takes; solving takes the rest.
constexpr double listening_share = 0.8;
constexpr std::uint64_t most_cache_bytes = std::uint64_t{20} << 30U;

/// Everything heard in one session, clip by clip.
struct Listening {
  std::vector<std::optional<Heard>> heard;
  std::vector<std::vector<std::string>> notes;
};

Result<Listening> listen_to_all(const std::vector<journal::Clip>& clips, const Watch& watch) {
  Listening all;
  all.heard.resize(clips.size());
  all.notes.resize(clips.size());
  std::optional<Error> failure;
  std::mutex guard;
  std::size_t done = 0;
  for_each_index(static_cast<int>(clips.size()), watch.threads, watch.stop, [&](int index) {
    const auto i = static_cast<std::size_t>(index);
    std::optional<Error> problem;
    if (clips[i].sound) {
      auto heard = listen(clips[i], watch.stop, all.notes[i]);
      if (heard) {
        all.heard[i] = std::move(*heard);
      } else if (heard.error().code() == Code::cancelled || heard.error().code() == Code::no_space) {
        problem = heard.error();
      }
    }
    const std::lock_guard lock{guard};
    if (problem && !failure) failure = problem;
    ++done;
    watch.tell(listening_share * static_cast<double>(done) / static_cast<double>(clips.size()),
               "listening to " + clips[i].name());
  });
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The line-up was stopped. The journal is as it was."};
  if (failure) return *failure;
  return all;
}

/// The clocks of a clip's first part as hints; the first dated claim tells the day for those without one.
std::vector<sync::ClockHint> hints_of(const journal::Clip& clip, const Zone& zone, std::chrono::year_month_day date) {
  const journal::Part& part = clip.parts.front();
  const auto dated = best_claim(part.clocks, part.length, zone);
  const WallTime noon = std::chrono::sys_days{date} + std::chrono::hours{12};
  // Where the name tells the time as well, importing has asked which edge the stamp marks.
  const bool named =
      std::ranges::any_of(part.clocks, [](const ClockReading& reading) { return reading.source == ClockSource::name; });
  std::vector<sync::ClockHint> hints;
  for (const ClockReading& reading : part.clocks) {
    const auto told = claim(reading, part.length, zone, dated ? dated->begin : noon);
    if (!told) continue;
    const bool may_mark_end = reading.source == ClockSource::container && reading.edge == ClockEdge::begin && !named;
    hints.push_back({told->begin - part.clip_from.time_since_epoch(), told->sigma, static_cast<int>(reading.source),
                     may_mark_end ? part.length : Length{0}});
  }
  return hints;
}

/// The place of each clip among those of its camera by the names of their first files; none for two of one name.
std::vector<std::optional<int>> numbers_of(const std::vector<journal::Clip>& clips) {
  std::vector<std::optional<int>> numbers(clips.size());
  for (std::size_t i = 0; i < clips.size(); ++i) {
    int before = 0;
    bool alone = true;
    for (std::size_t k = 0; k < clips.size(); ++k) {
      if (k == i || clips[k].camera != clips[i].camera) continue;
      before += natural_less(clips[k].name(), clips[i].name()) ? 1 : 0;
      alone = alone && clips[k].name() != clips[i].name();
    }
    if (alone) numbers[i] = before;
  }
  return numbers;
}

struct Inputs {
  std::vector<sync::ClipInput> clips;
  std::vector<journal::CameraId> cameras;
};

Inputs inputs_of(const journal::SessionRecord& record, const Listening& listening, const Zone& zone) {
  Inputs inputs;
  const auto numbers = numbers_of(record.clips);
  for (std::size_t i = 0; i < record.clips.size(); ++i) {
    const journal::Clip& clip = record.clips[i];
    auto camera = std::find(inputs.cameras.begin(), inputs.cameras.end(), clip.camera);
    if (camera == inputs.cameras.end()) camera = inputs.cameras.insert(camera, clip.camera);
    sync::ClipInput input;
    input.camera = static_cast<int>(camera - inputs.cameras.begin());
    input.number = numbers[i];
    input.length = clip.length;
    for (std::size_t part = 1; part < clip.parts.size(); ++part) input.joins.push_back(clip.parts[part].clip_from);
    input.clocks = hints_of(clip, zone, record.session.date);
    const journal::Placement* before = record.placement(clip.id);
    if (before != nullptr && !before->pieces.empty()) {
      const Piece& first = before->pieces.front();
      if (before->basis == journal::Basis::manual && !before->tied) {
        input.manual = sync::ManualPlace{first.clip_from, first.session_start};
      } else {
        input.before = first.to_session(ClipTime{});
      }
    }
    if (listening.heard[i]) {
      input.missing = listening.heard[i]->missing;
      input.features = &listening.heard[i]->features;
      input.sound = listening.heard[i]->sound.get();
    }
    inputs.clips.push_back(std::move(input));
  }
  return inputs;
}

std::vector<sync::Tie> ties_of(const journal::SessionRecord& record) {
  const auto number_of = [&](journal::ClipId id) {
    const auto there = [id](const journal::Clip& clip) { return clip.id == id; };
    return static_cast<int>(std::find_if(record.clips.begin(), record.clips.end(), there) - record.clips.begin());
  };
  std::vector<sync::Tie> ties;
  for (const journal::Tie& tie : record.ties) {
    ties.push_back({number_of(tie.clip_a), tie.at_a, number_of(tie.clip_b), tie.at_b});
  }
  return ties;
}

journal::Basis basis_of(sync::Basis basis) {
  switch (basis) {
    case sync::Basis::audio: return journal::Basis::audio;
    case sync::Basis::clock: return journal::Basis::clock;
    case sync::Basis::manual: return journal::Basis::manual;
    case sync::Basis::none: return journal::Basis::none;
  }
  return journal::Basis::none;
}

/// Where things move so that what was tagged before keeps its footage and nothing begins before zero.
struct Shift {
  Length pieces{0};  ///< for the new pieces
  Length tagged{0};  ///< for spans, marks and everything else that lies on the session clock
  Length later{0};   ///< how much later on the session clock an instant lies than it did
};

/// Whether anything lies at a moment of the session that footage must not be moved away from.
bool holds_moments(const journal::SessionRecord& record) {
  const auto timed = [](const auto& row) { return row.at.has_value(); };
  return !record.spans.empty() || !record.marks.empty() || !record.photos.empty() || !record.stills.empty() ||
         std::any_of(record.items.begin(), record.items.end(), timed) ||
         std::any_of(record.inspections.begin(), record.inspections.end(), timed);
}

Shift shift_of(const journal::SessionRecord& record, const sync::LineUp& solved) {
  std::vector<Length> moved;
  std::optional<SessionTime> earliest;
  for (std::size_t i = 0; i < record.clips.size(); ++i) {
    const auto& pieces = solved.clips[i].pieces;
    if (pieces.empty()) continue;
    if (!earliest || pieces.front().session_start < *earliest) earliest = pieces.front().session_start;
    const journal::Placement* before = record.placement(record.clips[i].id);
    if (before != nullptr && !before->pieces.empty()) {
      moved.push_back(before->pieces.front().session_start - pieces.front().session_start);
    }
  }
  Length back{0};  // to where things lay before
  if (!moved.empty()) {
    const auto middle = moved.begin() + std::ssize(moved) / 2;
    std::nth_element(moved.begin(), middle, moved.end());
    back = *middle;
  }
  Shift shift;
  if (holds_moments(record)) shift.pieces = back;
  if (earliest && *earliest + shift.pieces < SessionTime{}) {
    const Length up = SessionTime{} - (*earliest + shift.pieces);
    shift.pieces += up;
    if (holds_moments(record)) shift.tagged = up;
  }
  shift.later = shift.pieces - back;
  return shift;
}

/// When the session clock stood at zero: what the builder said holds, else what the cameras' clocks tell.
std::optional<WallTime> zero_of(const journal::Session& session, const sync::LineUp& solved, const Shift& shift) {
  if (session.zero_fixed) return *session.zero - shift.later;
  return solved.zero ? *solved.zero - shift.pieces : session.zero;
}

journal::Placement placement_of(std::size_t index, const sync::LineUp& solved, const std::vector<journal::Clip>& clips,
                                Length shift, const std::vector<std::string>& heard_notes) {
  const sync::ClipResult& result = solved.clips[index];
  journal::Placement placement;
  placement.clip = clips[index].id;
  placement.basis = basis_of(result.basis);
  placement.tied = result.tied;
  placement.pieces = result.pieces;
  for (Piece& piece : placement.pieces) piece.session_start += shift;
  for (const sync::Evidence& evidence : result.evidence) {
    placement.evidence.push_back({clips[static_cast<std::size_t>(evidence.with)].id, evidence.overlap,
                                  std::llround(evidence.score * 1000), evidence.windows, evidence.agreed});
  }
  placement.notes = heard_notes;
  for (const sync::Note& note : result.notes) placement.notes.push_back(describe(note, clips, shift));
  return placement;
}

Done keep(store::Store& store, const journal::SessionRecord& record, const Inputs& inputs, const Listening& listening,
          const sync::LineUp& solved) {
  const Shift shift = shift_of(record, solved);
  return store.edit("line up", [&](store::Edit& edit) -> Done {
    journal::Session session = record.session;
    session.reference = inputs.cameras[static_cast<std::size_t>(solved.reference)];
    session.zero = zero_of(session, solved, shift);
    if (const Done updated = edit.update(session); !updated) return updated;
    if (const Done moved = edit.move_moments(session.id, shift.tagged); !moved) return moved;
    for (std::size_t i = 0; i < record.clips.size(); ++i) {
      const journal::Placement placement = placement_of(i, solved, record.clips, shift.pieces, listening.notes[i]);
      if (const Done placed = edit.set_placement(placement); !placed) return placed;
    }
    // Zero unless the builder knows better than the cameras.
    const Length ahead = solved.zero ? *solved.zero - shift.pieces - *session.zero : Length{0};
    for (std::size_t camera = 0; camera < inputs.cameras.size(); ++camera) {
      const sync::CameraResult& found = solved.cameras[camera];
      const journal::CameraClock clock{record.session.id, inputs.cameras[camera], found.clock_offset + ahead,
                                       found.rate_ppb, found.known};
      if (const Done kept = edit.set_clock(clock); !kept) return kept;
    }
    return {};
  });
}

}  // namespace

Result<journal::SessionRecord> line_up_session(store::Store& store, journal::SessionId id, const Watch& watch) {
  const auto build = store.build();
  if (!build) return build.error();
  const auto zone = Zone::find(build->zone);
  if (!zone) return zone.error();
  const auto record = store.record(id);
  if (!record) return record.error();
  if (record->entry) {
    return Error{Code::conflict,
                 "The session of " + to_text(record->session.date) + " is sealed; its clips stay where they are."};
  }
  if (record->clips.empty()) {
    return Error{Code::not_found,
                 "The session of " + to_text(record->session.date) + " has no footage to line up. Import some first."};
  }

  const auto listening = listen_to_all(record->clips, watch);
  if (!listening) return listening.error();
  const Inputs inputs = inputs_of(*record, *listening, *zone);
  std::vector<std::string> keys;
  for (std::size_t i = 0; i < record->clips.size(); ++i) {
    keys.push_back(listening->heard[i] ? sound_key(record->clips[i]) : std::string{});
  }
  PairShelf shelf{std::move(keys)};
  sync::Watch solving;
  solving.stop = watch.stop;
  solving.memory = &shelf;
  solving.threads = watch.threads;
  solving.progress = [&](double fraction) {
    watch.tell(listening_share + (1 - listening_share) * fraction, "lining up");
  };
  const auto solved = sync::line_up(inputs.clips, static_cast<int>(inputs.cameras.size()), ties_of(*record), solving);
  shelf.save();  // of a line-up that was cancelled, too
  if (!solved) return solved.error();
  if (const Done kept = keep(store, *record, inputs, *listening, *solved); !kept) {
    // A placement that the journal's rules refuse is our mistake, not the builder's.
    const bool ours = kept.error().code() == Code::invalid;
    return ours ? Error{Code::internal, kept.error().message()}.during("keeping the line-up") : kept.error();
  }
  trim_cache(most_cache_bytes);
  return store.record(id);
}

}  // namespace jigtime::actions
