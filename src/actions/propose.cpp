#include "actions/propose.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>

#include "actions/listen.h"
#include "actions/parallel.h"
#include "base/text.h"
#include "detect/detect.h"

namespace jigtime::actions {
namespace {

static_assert(detect::sample_rate_hz == sync::sample_rate_hz, "the kept sound serves both");

struct HeardFinding {
  journal::CameraId camera;
  journal::Proposal proposal;
};

Result<std::vector<detect::Finding>> findings_in(const sync::Sound& sound, const std::stop_token& stop) {
  detect::Detector detector{sound.origin()};
  std::array<float, 16384> block{};
  for (std::int64_t at = 0; at < sound.count(); at += std::ssize(block)) {
    if (stop.stop_requested()) return Error{Code::cancelled, "Listening was stopped. The proposals are as they were."};
    const auto length = static_cast<std::size_t>(std::min<std::int64_t>(std::ssize(block), sound.count() - at));
    const std::span<float> part = std::span{block}.first(length);
    if (const Done read = sound.read(at, part); !read) return read.error();
    detector.add(part);
  }
  return detector.finish();
}

journal::ProposalKind kind_of(detect::Kind kind) {
  switch (kind) {
    case detect::Kind::riveting: return journal::ProposalKind::riveting;
    case detect::Kind::pause: return journal::ProposalKind::pause;
    case detect::Kind::signal: return journal::ProposalKind::signal;
  }
  return journal::ProposalKind::riveting;
}

/// On the session clock; nothing where the finding lies in a dropout altogether.
std::optional<journal::Proposal> on_session_clock(const detect::Finding& finding, const journal::Placement& placement,
                                                  journal::SessionId session) {
  const Piece* at_begin = piece_at(placement.pieces, finding.begin);
  const Piece* at_end = piece_at(placement.pieces, finding.end);
  if (at_begin == nullptr) at_begin = at_end;
  if (at_end == nullptr) at_end = at_begin;
  if (at_begin == nullptr) return std::nullopt;
  journal::Proposal proposal;
  proposal.session = session;
  proposal.kind = kind_of(finding.kind);
  proposal.begin = std::max(at_begin->to_session(finding.begin), SessionTime{});
  proposal.end = at_end->to_session(finding.end);
  proposal.count = finding.count;
  proposal.confidence_permille = static_cast<int>(std::lround(std::clamp(finding.confidence, 0.0, 1.0) * 1000));
  if (proposal.end <= proposal.begin) return std::nullopt;
  return proposal;
}

/// Several cameras hear one burst: the surest is kept, widened to all that overlaps it. A break must be quiet at every
/// camera that ran, so breaks are narrowed instead.
std::vector<journal::Proposal> joined(std::vector<HeardFinding> heard) {
  std::stable_sort(heard.begin(), heard.end(),
                   [](const HeardFinding& a, const HeardFinding& b) { return a.proposal.begin < b.proposal.begin; });
  std::vector<journal::Proposal> joined;
  for (const HeardFinding& finding : heard) {
    const journal::Proposal& next = finding.proposal;
    const auto same = std::find_if(joined.rbegin(), joined.rend(), [&](const journal::Proposal& there) {
      return there.kind == next.kind && there.begin < next.end && next.begin < there.end;
    });
    if (same == joined.rend()) {
      joined.push_back(next);
      continue;
    }
    if (next.kind == journal::ProposalKind::pause) {
      same->begin = std::max(same->begin, next.begin);
      same->end = std::min(same->end, next.end);
    } else {
      same->begin = std::min(same->begin, next.begin);
      same->end = std::max(same->end, next.end);
    }
    same->count = std::max(same->count, next.count);
    same->confidence_permille = std::max(same->confidence_permille, next.confidence_permille);
  }
  return joined;
}

/// Work that any camera heard is no break.
void drop_contradicted_breaks(std::vector<journal::Proposal>& proposals) {
  const auto contradicted = [&](const journal::Proposal& pause) {
    return pause.kind == journal::ProposalKind::pause &&
           std::any_of(proposals.begin(), proposals.end(), [&](const journal::Proposal& other) {
             return other.kind == journal::ProposalKind::riveting && other.begin < pause.end && pause.begin < other.end;
           });
  };
  std::vector<journal::Proposal> kept;
  std::copy_if(proposals.begin(), proposals.end(), std::back_inserter(kept),
               [&](const auto& p) { return !contradicted(p); });
  proposals = std::move(kept);
}

}  // namespace

Result<std::vector<journal::Proposal>> detect_in_session(store::Store& store, journal::SessionId id,
                                                         const Watch& watch) {
  const auto record = store.record(id);
  if (!record) return record.error();
  std::vector<const journal::Clip*> placed;
  for (const journal::Clip& clip : record->clips) {
    const journal::Placement* placement = record->placement(clip.id);
    if (clip.sound && placement != nullptr && !placement->pieces.empty()) placed.push_back(&clip);
  }
  if (placed.empty()) {
    return Error{Code::not_found,
                 "No clip with sound has a place on the session clock yet. Line the session up first: jigtime align."};
  }

  std::vector<HeardFinding> heard;
  std::optional<Error> failure;
  std::mutex guard;
  std::size_t done = 0;
  for_each_index(static_cast<int>(placed.size()), watch.threads, watch.stop, [&](int index) {
    const journal::Clip& clip = *placed[static_cast<std::size_t>(index)];
    std::vector<std::string> ignored;
    const auto sound = listen(clip, watch.stop, ignored);
    const auto findings =
        sound ? findings_in(*sound->sound, watch.stop) : Result<std::vector<detect::Finding>>{sound.error()};
    const std::lock_guard lock{guard};
    watch.tell(static_cast<double>(++done) / static_cast<double>(placed.size()), "listening to " + clip.name());
    if (!findings) {
      if (findings.error().code() != Code::unreadable && findings.error().code() != Code::not_found)
        failure = findings.error();
      return;
    }
    for (const detect::Finding& finding : *findings) {
      if (const auto proposal = on_session_clock(finding, *record->placement(clip.id), id))
        heard.push_back({clip.camera, *proposal});
    }
  });
  if (watch.stop.stop_requested())
    return Error{Code::cancelled, "Listening was stopped. The proposals are as they were."};
  if (failure) return *failure;

  std::vector<journal::Proposal> proposals = joined(std::move(heard));
  drop_contradicted_breaks(proposals);
  const Done kept =
      store.edit("listen for proposals", [&](store::Edit& edit) { return edit.set_proposals(id, proposals); });
  if (!kept) return kept.error();
  return proposals;
}

}  // namespace jigtime::actions
