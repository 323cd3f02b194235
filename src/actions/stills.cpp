#include "actions/stills.h"

#include <algorithm>

#include "actions/footage.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "media/picture_reader.h"

namespace jigtime::actions {
namespace {

constexpr int still_width = 640;
constexpr int page_quality = 85;
constexpr int whole_quality = 95;

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

Result<MomentPicture> still_of(const journal::Clip& clip, ClipTime at, PictureSize size, const std::stop_token& stop) {
  const journal::Part* part = &clip.parts.front();
  for (const journal::Part& later : clip.parts) {
    if (later.clip_from <= at) part = &later;
  }
  const auto source = source_of(clip, *part);
  if (!source) return source.error();
  const bool page = size == PictureSize::page;
  auto reader = media::PictureReader::open(*source, page ? still_width : 0, stop);
  if (!reader) return reader.error();
  const auto picture = reader->at(ClipTime{at - part->clip_from});
  if (!picture) return picture.error();
  auto jpeg = media::to_jpeg(picture->picture, page ? page_quality : whole_quality);
  if (!jpeg) return jpeg.error();
  return MomentPicture{std::move(*jpeg), clip.camera, clip.id, part->clip_from + picture->at.time_since_epoch()};
}

std::string_view as_text(const std::vector<std::uint8_t>& bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};  // NOLINT: bytes as characters
}

struct Taken {
  journal::Still still;
  std::vector<std::uint8_t> jpeg;
};

Taken taken_of(const journal::SessionRecord& record, SessionTime at, std::optional<journal::MarkId> mark,
               MomentPicture picture) {
  const std::string digest = store::sha256_hex(as_text(picture.jpeg));
  return {{{}, record.session.id, at, picture.camera, picture.clip, picture.at, mark, digest}, std::move(picture.jpeg)};
}

Done keep(store::Store& store, const std::vector<Taken>& all) {
  return store.edit("keep stills", [&](store::Edit& edit) -> Done {
    for (const Taken& taken : all) {
      if (const auto added = edit.add(taken.still, as_text(taken.jpeg)); !added) return added.error();
    }
    return {};
  });
}

/// "still-0.17.42.500-bench.jpg"; a camera's name may hold what a file's name may not.
std::string file_name(const journal::Still& still, const journal::Register& known) {
  const journal::Camera* camera = known.camera(still.camera);
  std::string name = "still-" + to_clock_text(still.at) + "-" + (camera == nullptr ? "camera" : camera->name) + ".jpg";
  for (char& c : name) {
    if (c == ':') c = '.';
    if (c == '/' || c == '\\') c = '_';
  }
  return name;
}

}  // namespace

Result<MomentPicture> picture_at(const journal::SessionRecord& record, SessionTime at, PictureSize size,
                                 const std::stop_token& stop) {
  std::optional<Error> failure;
  for (const Sighting& sighting : sightings_of(record, at)) {
    auto still = still_of(*sighting.clip, sighting.at, size, stop);
    if (still) return still;
    if (!failure) failure = still.error();
  }
  if (failure) return *failure;
  return Error{Code::not_found, "No camera saw " + to_clock_text(at) + "."};
}

Result<std::vector<std::uint8_t>> still_at(const journal::SessionRecord& record, SessionTime at,
                                           const std::stop_token& stop) {
  auto picture = picture_at(record, at, PictureSize::page, stop);
  if (!picture) return picture.error();
  return std::move(picture->jpeg);
}

Result<std::vector<std::uint8_t>> still_of_clip(const journal::Clip& clip, ClipTime at, const std::stop_token& stop) {
  auto picture = still_of(clip, at, PictureSize::page, stop);
  if (!picture) return picture.error();
  return std::move(picture->jpeg);
}

Result<StillsReport> keep_stills_of_marks(store::Store& store, journal::SessionId session, const Watch& watch) {
  const auto record = store.record(session);
  if (!record) return record.error();
  StillsReport report;
  std::vector<Taken> all;
  for (std::size_t i = 0; i < record->marks.size(); ++i) {
    const journal::Mark& mark = record->marks[i];
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "Stopped; no still was kept."};
    watch.tell(static_cast<double>(i) / static_cast<double>(record->marks.size()), mark.note);
    const bool there = std::any_of(record->stills.begin(), record->stills.end(), [&](const journal::Still& still) {
      return still.mark == mark.id && still.at == mark.at;
    });
    if (there) {
      ++report.known_already;
      continue;
    }
    auto picture = picture_at(*record, mark.at, PictureSize::whole, watch.stop);
    if (!picture) {
      report.notes.push_back("Mark at " + to_clock_text(mark.at) + ": " + picture.error().message());
      continue;
    }
    all.push_back(taken_of(*record, mark.at, mark.id, std::move(*picture)));
    report.kept.push_back({mark.at, all.back().still.digest});
  }
  if (all.empty()) return report;
  if (const Done kept = keep(store, all); !kept) return kept.error();
  return report;
}

Result<KeptStill> keep_still(store::Store& store, journal::SessionId session, SessionTime at, const Watch& watch) {
  const auto record = store.record(session);
  if (!record) return record.error();
  auto picture = picture_at(*record, at, PictureSize::whole, watch.stop);
  if (!picture) return picture.error();
  const Taken taken = taken_of(*record, at, std::nullopt, std::move(*picture));
  if (const Done kept = keep(store, {taken}); !kept) return kept.error();
  return KeptStill{at, taken.still.digest};
}

Result<std::vector<std::filesystem::path>> write_stills(const store::Store& store, journal::SessionId session,
                                                        const std::filesystem::path& folder) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto known = store.known();
  if (!known) return known.error();
  std::error_code failed;
  std::filesystem::create_directories(folder, failed);
  if (failed) return Error{Code::denied, "The folder cannot be made: " + failed.message() + "."};
  std::vector<std::filesystem::path> files;
  for (const journal::Still& still : record->stills) {
    const auto bytes = store.still_bytes(still.id);
    if (!bytes) return bytes.error();
    const std::filesystem::path file = folder / file_name(still, *known);
    const auto there = read_whole(file);
    if (there && as_text(*there) != *bytes) {
      return Error{Code::conflict,
                   "\"" + to_utf8(file.string()) + "\" is there with other content. Choose another folder."};
    }
    if (!there) {
      if (const Done written = write_whole(file, *bytes); !written) return written.error();
    }
    files.push_back(file);
  }
  return files;
}

}  // namespace jigtime::actions
