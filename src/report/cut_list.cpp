#include "report/cut_list.h"

#include <algorithm>
#include <array>
#include <map>

#include "report/day.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Clip;
using journal::Part;
using journal::Placement;

constexpr std::int64_t second_ns = 1'000'000'000;

/// The most frequent rate of the reference camera's clips; of all clips where that one has no pictures.
PictureRate timeline_rate(const Timeline& timeline) {
  const auto& clips = timeline.record.clips;
  const auto rate_over = [&](bool reference_only) -> std::optional<PictureRate> {
    std::map<Length, int> counts;
    for (const Clip& clip : clips) {
      if (!clip.pictures || clip.pictures->picture_length <= Length{0}) continue;
      if (reference_only && timeline.record.session.reference != clip.camera) continue;
      ++counts[clip.pictures->picture_length];
    }
    const auto most = std::max_element(counts.begin(), counts.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == counts.end() ? std::nullopt : std::optional{rate_of(most->first)};
  };
  if (const auto rate = rate_over(true)) return *rate;
  return rate_over(false).value_or(PictureRate{});
}

/// How long a stretch may be until its clock has drifted by half a picture against the timeline's.
Length steady_for(const Piece& piece, const PictureRate& rate) {
  if (piece.rate_ppb == 0) return farthest;
  const std::int64_t half = rate.length_of(1).count() / 2;
  return Length{scaled(half, one_in_ppb, std::max(piece.rate_ppb, -piece.rate_ppb))};
}

/// What of one file one piece places.
struct Stretch {
  const Clip* clip;
  const Part* part;
  const Placement* placement;
  const Piece* piece;
  ClipRange range;
};

std::vector<Stretch> stretches_of(const Clip& clip, const Placement& placement) {
  std::vector<Stretch> stretches;
  for (const Part& part : clip.parts) {
    const auto file = ClipRange::make(part.clip_from, part.clip_from + part.length);
    for (const Piece& piece : placement.pieces) {
      const auto held = ClipRange::make(piece.clip_from, piece.clip_to);
      const auto range = file && held ? file->intersection(*held) : std::nullopt;
      if (range) stretches.push_back({&clip, &part, &placement, &piece, *range});
    }
  }
  return stretches;
}

class Cutter {
 public:
  explicit Cutter(PictureRate rate) : rate_{rate} {}

  /// Into the first of the camera's tracks with room for all of it.
  void add(std::vector<CutTrack>& tracks, const CutTrack& kind, const std::vector<Stretch>& stretches) {
    std::vector<Cut> cuts;
    for (const Stretch& stretch : stretches) cut(stretch, cuts);
    if (cuts.empty()) return;
    const auto room = std::find_if(tracks.begin(), tracks.end(), [&](const CutTrack& track) {
      if (track.camera != kind.camera || track.sound != kind.sound) return false;
      return track.cuts.empty() || track.cuts.back().from + track.cuts.back().count <= cuts.front().from;
    });
    CutTrack& track = room != tracks.end() ? *room : tracks.emplace_back(kind);
    track.cuts.insert(track.cuts.end(), cuts.begin(), cuts.end());
  }

 private:
  void cut(const Stretch& stretch, std::vector<Cut>& cuts) const {
    const Length step = steady_for(*stretch.piece, rate_);
    for (ClipTime from = stretch.range.begin(); from < stretch.range.end();) {
      const ClipTime to = stretch.range.end() - from <= step ? stretch.range.end() : from + step;
      append({stretch.clip, stretch.part, stretch.placement, stretch.piece, *ClipRange::make(from, to)}, cuts);
      from = to;
    }
  }

  /// Its middle shows the picture that the journal has there, so that both ends share what the clock drifts.
  void append(const Stretch& stretch, std::vector<Cut>& cuts) const {
    const std::int64_t least = cuts.empty() ? 0 : std::max<std::int64_t>(0, cuts.back().from + cuts.back().count);
    const std::int64_t from =
        std::max(least, rate_.at(stretch.piece->to_session(stretch.range.begin()).time_since_epoch()));
    const std::int64_t to = rate_.at(stretch.piece->to_session(stretch.range.end()).time_since_epoch());
    if (to <= from) return;
    const Length to_middle = rate_.length_of(to - from) / 2;
    const ClipTime middle = stretch.piece->to_clip(SessionTime{rate_.length_of(from) + to_middle});
    const std::int64_t file_from = std::max<std::int64_t>(0, rate_.at(middle - stretch.part->clip_from - to_middle));
    const std::int64_t count = std::min(to - from, rate_.at(stretch.part->length) - file_from);
    if (count <= 0) return;
    cuts.push_back({from, count, file_from, stretch.clip, stretch.part, stretch.placement, stretch.piece});
  }

  PictureRate rate_;
};

/// Clips by begin, so that tracks are filled from the left.
std::vector<std::vector<Stretch>> clips_in_order(const Timeline& timeline) {
  std::vector<std::vector<Stretch>> clips;
  for (const Clip& clip : timeline.record.clips) {
    const Placement* placement = timeline.record.placement(clip.id);
    if (placement == nullptr) continue;
    std::vector<Stretch> stretches = stretches_of(clip, *placement);
    if (!stretches.empty()) clips.push_back(std::move(stretches));
  }
  std::stable_sort(clips.begin(), clips.end(), [](const auto& a, const auto& b) {
    return a.front().piece->to_session(a.front().range.begin()) < b.front().piece->to_session(b.front().range.begin());
  });
  return clips;
}

}  // namespace

std::int64_t PictureRate::at(Length since_zero) const {
  return scaled(since_zero.count(), pictures, seconds * second_ns);
}

Length PictureRate::length_of(std::int64_t count) const { return Length{scaled(count, seconds * second_ns, pictures)}; }

PictureRate rate_of(Length picture_length) {
  constexpr std::array usual{PictureRate{24000, 1001},  PictureRate{24, 1}, PictureRate{25, 1},
                             PictureRate{30000, 1001},  PictureRate{30, 1}, PictureRate{50, 1},
                             PictureRate{60000, 1001},  PictureRate{60, 1}, PictureRate{100, 1},
                             PictureRate{120000, 1001}, PictureRate{120, 1}};
  if (picture_length <= Length{0}) return {};
  for (const PictureRate& rate : usual) {
    // A ten-thousandth apart: 30 and 30000/1001 are ten times as far from each other.
    const Length off = rate.length_of(1) - picture_length;
    if (std::max(off, -off) * 10'000 <= picture_length) return rate;
  }
  return {second_ns, picture_length.count()};
}

CutList cut_list_of(const Timeline& timeline) {
  CutList list;
  list.rate = timeline_rate(timeline);
  Cutter cutter{list.rate};
  const std::vector<std::vector<Stretch>> clips = clips_in_order(timeline);
  for (const bool sound : {false, true}) {
    std::vector<CutTrack> tracks;
    // A track for each camera in the register's order, whichever began first.
    for (const journal::Camera& camera : timeline.known.cameras) {
      for (const std::vector<Stretch>& stretches : clips) {
        const Clip& clip = *stretches.front().clip;
        if (clip.camera != camera.id || !(sound ? clip.sound.has_value() : clip.pictures.has_value())) continue;
        cutter.add(tracks, {one_line(camera.name), sound, {}}, stretches);
      }
    }
    list.tracks.insert(list.tracks.end(), tracks.begin(), tracks.end());
  }
  return list;
}

}  // namespace jigtime::report
