#include "actions/photos.h"

#include <algorithm>
#include <set>

#include "actions/photo_clock.h"
#include "actions/scan.h"
#include "base/text.h"
#include "media/photo.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

using namespace std::chrono_literals;

/// Photos are taken before the first and after the last clip too.
constexpr Length around_session = 6h;

/// What is to be written, once everything has been looked at.
struct Plan {
  std::vector<journal::Photo> fresh;
  std::vector<journal::Photo> moved_in_time;
  std::vector<std::pair<journal::PhotoId, std::filesystem::path>> moved_in_place;
};

class PhotoReader {
 public:
  PhotoReader(const store::Store& store, journal::SessionRecord record, journal::Register known, Zone zone)
      : store_{store}, record_{std::move(record)}, known_{std::move(known)}, zone_{zone} {}

  Done take(const std::string& camera, const std::filesystem::path& path) {
    const auto info = media::read_photo(path);
    if (!info) {
      if (info.error().code() == Code::unsupported) {
        ++report.left_out;
      } else {
        note(path.filename().string() + ": " + info.error().message());
      }
      return {};
    }
    const auto identity = media::identify(path);
    if (!identity) {
      note(path.filename().string() + ": " + identity.error().message());
      return {};
    }
    const auto there = store_.photo(*identity);
    if (!there) return there.error();
    if (*there) {
      take_known(**there, path);
    } else if (seen_.insert(*identity).second) {
      take_fresh(camera, path, *identity, *info);
    }
    return {};
  }

  PhotosReport report;
  Plan plan;

 private:
  void take_known(const journal::Photo& photo, const std::filesystem::path& path) {
    if (!seen_.insert(photo.identity).second) return;
    if (photo.session != record_.session.id) {
      note(to_utf8(path.filename().string()) + " is in the journal already, under another session.");
      return;
    }
    // A second copy of a photo that is still where it was is not followed.
    std::error_code none;
    if (photo.path != path && !std::filesystem::exists(photo.path, none)) {
      plan.moved_in_place.emplace_back(photo.id, path);
      ++report.relinked;
    } else {
      ++report.known_already;
    }
    const auto moment = moment_of(photo.camera, photo.taken);
    if (!moment || record_.entry || (photo.at == moment->at && photo.sigma == moment->sigma)) return;
    journal::Photo placed = photo;
    placed.at = moment->at;
    placed.sigma = moment->sigma;
    plan.moved_in_time.push_back(std::move(placed));
    ++report.placed_anew;
  }

  void take_fresh(const std::string& camera, const std::filesystem::path& path, const FileIdentity& identity,
                  const media::PhotoInfo& info) {
    auto moment = moment_of(camera, info.taken);
    journal::Photo photo{{}, record_.session.id, path, identity, camera, info.taken, {}, {}, {}};
    if (moment && out_of_session(moment->at)) {
      if (info.taken->source != ClockSource::file_time) {
        ++report.other_day;
        return;
      }
      // A copy made later: its time says nothing about the photo.
      moment.reset();
      photo.taken.reset();
    }
    if (moment) {
      photo.at = moment->at;
      photo.sigma = moment->sigma;
      if (!moment->note.empty()) note(camera + ": " + moment->note);
    } else {
      note(to_utf8(path.filename().string()) +
           (record_.session.zero ? " does not say when it was taken; it was added without a moment."
                                 : " was added without a moment: no clock has told the session's time of day yet. Line "
                                   "up first (jigtime align), then add the photos again."));
    }
    report.added.push_back({path, camera, photo.at, photo.sigma});
    plan.fresh.push_back(std::move(photo));
  }

  std::optional<PhotoMoment> moment_of(const std::string& camera, const std::optional<ClockReading>& taken) const {
    return photo_moment(record_, known_.camera(camera), taken, zone_);
  }

  bool out_of_session(SessionTime at) const {
    SessionTime end{};
    for (const journal::Placement& placement : record_.placements) {
      for (const Piece& piece : placement.pieces) end = std::max(end, piece.session_end());
    }
    for (const journal::Span& span : record_.spans) end = std::max(end, span.end);
    return at < SessionTime{-around_session} || at > end + around_session;
  }

  void note(const std::string& sentence) {
    if (noted_.insert(sentence).second) report.notes.push_back(to_utf8(sentence));
  }

  const store::Store& store_;
  journal::SessionRecord record_;
  journal::Register known_;
  Zone zone_;
  std::set<FileIdentity> seen_;
  std::set<std::string> noted_;
};

Done keep(store::Store& store, const Plan& plan) {
  return store.edit("add photos", [&](store::Edit& edit) -> Done {
    for (const journal::Photo& photo : plan.fresh) {
      if (const auto added = edit.add(photo); !added) return added.error();
    }
    for (const journal::Photo& photo : plan.moved_in_time) {
      if (const Done updated = edit.update(photo); !updated) return updated;
    }
    for (const auto& [photo, path] : plan.moved_in_place) {
      if (const Done moved = edit.relink(photo, path); !moved) return moved;
    }
    return {};
  });
}

struct Found {
  std::string camera;
  std::filesystem::path path;
};

Result<std::vector<Found>> find_files(const std::vector<PhotoFolder>& folders, PhotosReport& report) {
  std::vector<Found> files;
  for (const PhotoFolder& folder : folders) {
    if (trimmed(folder.camera).empty()) {
      return Error{Code::invalid, "A folder of photos needs the name of their camera: --camera NAME=PATH."};
    }
    const auto found = scan(std::filesystem::absolute(folder.path));
    if (!found) return found.error();
    for (const std::filesystem::path& path : found->files) files.push_back({folder.camera, path});
    for (const Refused& refused : found->refused) report.notes.push_back(to_utf8(refused.why));
  }
  return files;
}

}  // namespace

Result<PhotosReport> add_photos(store::Store& store, journal::SessionId session,
                                const std::vector<PhotoFolder>& folders, const Watch& watch) {
  const auto build = store.build();
  if (!build) return build.error();
  const auto zone = Zone::find(build->zone);
  if (!zone) return zone.error();
  auto known = store.known();
  if (!known) return known.error();
  auto record = store.record(session);
  if (!record) return record.error();
  PhotoReader reader{store, std::move(*record), std::move(*known), *zone};
  const auto files = find_files(folders, reader.report);
  if (!files) return files.error();
  for (std::size_t i = 0; i < files->size(); ++i) {
    const Found& file = (*files)[i];
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "Stopped; no photo was added."};
    watch.tell(static_cast<double>(i) / static_cast<double>(files->size()), file.path.filename().string());
    if (const Done taken = reader.take(file.camera, file.path); !taken) return taken.error();
  }
  if (const Done kept = keep(store, reader.plan); !kept) return kept.error();
  return std::move(reader.report);
}

}  // namespace jigtime::actions
