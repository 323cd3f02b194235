#include "actions/stills.h"

#include <algorithm>

#include "actions/footage.h"
#include "base/text.h"
#include "media/picture_reader.h"

namespace jigtime::actions {
namespace {

constexpr int still_width = 640;

struct Sighting {
  const journal::Clip* clip;
  ClipTime at;
  int rank;
};

std::vector<Sighting> sightings_of(const journal::SessionRecord& record, SessionTime at) {
  std::vector<Sighting> sightings;
  for (const journal::Clip& clip : record.clips) {
    const journal::Placement* placement = record.placement(clip.id);
    if (!clip.pictures || placement == nullptr) continue;
    const Piece* piece = piece_at(placement->pieces, at);
    if (piece == nullptr) continue;
    const bool reference = record.session.reference == clip.camera;
    sightings.push_back(
        {&clip, piece->to_clip(at), (reference ? 1 << 28 : 0) + clip.pictures->width * clip.pictures->height / 16});
  }
  std::stable_sort(sightings.begin(), sightings.end(),
                   [](const Sighting& a, const Sighting& b) { return a.rank > b.rank; });
  return sightings;
}

}  // namespace

Result<std::vector<std::uint8_t>> still_of_clip(const journal::Clip& clip, ClipTime at, const std::stop_token& stop) {
  const journal::Part* part = &clip.parts.front();
  for (const journal::Part& later : clip.parts) {
    if (later.clip_from <= at) part = &later;
  }
  const auto source = source_of(clip, *part);
  if (!source) return source.error();
  auto reader = media::PictureReader::open(*source, still_width, stop);
  if (!reader) return reader.error();
  const auto picture = reader->at(ClipTime{at - part->clip_from});
  if (!picture) return picture.error();
  return media::to_jpeg(picture->picture);
}

Result<std::vector<std::uint8_t>> still_at(const journal::SessionRecord& record, SessionTime at,
                                           const std::stop_token& stop) {
  std::optional<Error> failure;
  for (const Sighting& sighting : sightings_of(record, at)) {
    auto still = still_of_clip(*sighting.clip, sighting.at, stop);
    if (still) return still;
    if (!failure) failure = still.error();
  }
  if (failure) return *failure;
  return Error{Code::not_found, "No camera saw " + to_clock_text(at) + "."};
}

}  // namespace jigtime::actions
