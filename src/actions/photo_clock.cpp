#include "actions/photo_clock.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "actions/clocks.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

using namespace std::chrono_literals;

/// A clock that nothing was compared with: devices that set themselves are right to a second, others drift by minutes a
/// year. Experience, no source.
constexpr Length unknown_clock = 5min;
/// A file is written when its photo is taken, or when an app or a card reader wrote it anew. Within a session one such
/// step mostly lies minutes behind. Experience, no source.
constexpr Length file_time_doubt = 15min;
/// Cheap clocks drift by up to this. Experience, no source.
constexpr double drift = 50e-6;
/// Clocks this close to a whole difference of zones are likely in another zone, not wrong by chance.
constexpr Length zone_slack = 2min;

/// One clip's word on how far its device's clock is off.
struct Compared {
  WallTime told;     ///< when the device says the clip began
  WallTime until;    ///< and ended
  Length offset{0};  ///< told minus true
  Length sigma{0};
  ClockKind kind = ClockKind::utc;
};

double squared(Length length) { return to_seconds(length) * to_seconds(length); }

/// Begin of a part on the session clock, with the placement's own doubt.
std::optional<std::pair<SessionTime, Length>> placed(const journal::SessionRecord& record, const journal::Clip& clip,
                                                     const journal::Part& part) {
  const journal::Placement* placement = record.placement(clip.id);
  if (placement == nullptr || placement->pieces.empty()) return std::nullopt;
  const Piece* piece = piece_at(placement->pieces, part.clip_from);
  if (piece == nullptr) piece = &placement->pieces.front();
  return std::pair{piece->to_session(part.clip_from), piece->sigma};
}

std::vector<Compared> compare(const journal::SessionRecord& record, journal::CameraId camera, WallTime zero,
                              const Zone& zone) {
  std::vector<Compared> all;
  for (const journal::Clip& clip : record.clips) {
    if (clip.camera != camera) continue;
    for (const journal::Part& part : clip.parts) {
      const auto begin = placed(record, clip, part);
      if (!begin) continue;
      for (const ClockReading& reading : part.clocks) {
        if (reading.kind == ClockKind::time_of_day || reading.source == ClockSource::file_time) continue;
        const auto told = claim(reading, part.length, zone, std::nullopt);
        if (!told) continue;
        const Length sigma = from_seconds(std::sqrt(squared(told->sigma) + squared(begin->second)));
        all.push_back({told->begin, told->begin + part.length, told->begin - (zero + begin->first.time_since_epoch()),
                       sigma, reading.kind});
      }
    }
  }
  return all;
}

Length distance(const Compared& clip, WallTime moment) {
  if (moment < clip.told) return clip.told - moment;
  return moment > clip.until ? moment - clip.until : Length{0};
}

/// The nearest clip in time; among its readings one of the photo's own kind, since a device may write one clock in two
/// zones.
const Compared* nearest(const std::vector<Compared>& all, WallTime moment, ClockKind kind) {
  const bool same_kind = std::any_of(all.begin(), all.end(), [&](const Compared& c) { return c.kind == kind; });
  const Compared* best = nullptr;
  for (const Compared& clip : all) {
    if (same_kind && clip.kind != kind) continue;
    const auto rank = [&](const Compared& c) { return std::pair{distance(c, moment), c.sigma}; };
    if (best == nullptr || rank(clip) < rank(*best)) best = &clip;
  }
  return best;
}

/// A video's clock in the UTC field that is off by the zone's own difference is most likely local time in the wrong
/// field: the photo's local time is then right. It may also be a clock an hour wrong: the doubt covers both.
bool local_in_utc_field(const Compared& clip, ClockKind photo_kind, Length zone_offset) {
  return photo_kind == ClockKind::local && clip.kind == ClockKind::utc && zone_offset != Length{0} &&
         std::chrono::abs(clip.offset - zone_offset) <= zone_slack;
}

}  // namespace

std::optional<PhotoMoment> photo_moment(const journal::SessionRecord& record, const journal::Camera* camera,
                                        const std::optional<ClockReading>& taken, const Zone& zone) {
  if (!taken || !record.session.zero) return std::nullopt;
  const WallTime zero = *record.session.zero;
  const auto told = claim(*taken, Length{0}, zone, zero);
  if (!told) return std::nullopt;
  // A stamp is cut off, not rounded: on average the moment lies half a step later.
  const WallTime moment = told->begin + taken->resolution / 2;
  if (taken->source == ClockSource::file_time) {
    return PhotoMoment{SessionTime{moment - zero}, file_time_doubt,
                       "Photos that do not say when they were taken are placed by their file's time, which may be that "
                       "of a copy. Compare one with the footage."};
  }
  std::vector<Compared> all;
  if (camera != nullptr) all = compare(record, camera->id, zero, zone);
  const Compared* clip = nearest(all, moment, taken->kind);
  if (clip == nullptr) {
    return PhotoMoment{
        SessionTime{moment - zero}, unknown_clock,
        "Nothing was heard that tells how right the clock of this camera is; the photos are placed as it "
        "stands. Compare one with the footage."};
  }
  const Length zone_offset = zone.offset_at(moment);
  const bool zone_doubt = local_in_utc_field(*clip, taken->kind, zone_offset);
  const Length offset = zone_doubt ? clip->offset - zone_offset : clip->offset;
  const double drifted = drift * to_seconds(distance(*clip, moment));
  double variance = squared(told->sigma) + squared(clip->sigma) + drifted * drifted;
  if (zone_doubt) variance += squared(zone_offset);
  PhotoMoment placed_at{SessionTime{moment - offset - zero}, from_seconds(std::sqrt(variance)), {}};
  if (zone_doubt) {
    placed_at.note =
        "The camera's films carry local time where universal time belongs, or its clock is off by as much; the photos "
        "are "
        "placed as if the former. Compare one with the footage.";
  }
  return placed_at;
}

}  // namespace jigtime::actions
