#include "actions/import.h"

#include <algorithm>
#include <map>
#include <mutex>
#include <set>

#include "actions/clocks.h"
#include "actions/parallel.h"
#include "actions/picture_continuity.h"
#include "actions/recordings.h"
#include "actions/scan.h"
#include "actions/sessions.h"
#include "actions/stamp_edge.h"
#include "base/text.h"
#include "journal/rules.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;
using std::chrono::year_month_day;

/// One file of a card before and after it was looked at.
struct Candidate {
  std::string camera;
  fs::path path;
  std::optional<Footage> footage;
  std::optional<Error> failure;
};

/// A recording on its way into the journal.
struct Take {
  std::string camera;
  std::vector<Footage> parts;
  std::optional<year_month_day> date;
  bool clock_doubted = false;
};

/// Endings that consumer cameras give to footage; used only to tell "a film that cannot be read" from "no film at all".
bool named_like_footage(const fs::path& path) {
  static const std::set<std::string> endings{".mp4", ".mov", ".m4v",  ".mkv", ".webm", ".avi", ".mts",  ".m2ts",
                                             ".ts",  ".mpg", ".mpeg", ".3gp", ".wav",  ".mp3", ".flac", ".m4a",
                                             ".aac", ".ogg", ".opus", ".mxf", ".wmv",  ".asf", ".vob"};
  std::string ending = path.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return endings.contains(ending);
}

Result<std::vector<Candidate>> list_files(const ImportRequest& request, ImportReport& report) {
  std::vector<Candidate> files;
  std::set<std::pair<std::string, fs::path>> seen;
  for (const CameraFolder& folder : request.folders) {
    if (const Done named = journal::check_name(folder.camera, "camera"); !named) return named.error();
    const auto found = scan(folder.path);
    if (!found) return found.error();
    for (const Refused& refused : found->refused)
      report.unreadable.push_back({folder.camera, refused.path, refused.why});
    if (found->files.empty() && found->refused.empty()) {
      report.notes.push_back("There are no files in \"" + folder.path.string() + "\" (camera " + folder.camera +
                             "). Check that the card was copied.");
    }
    for (const fs::path& path : found->files) {
      std::error_code ignored;
      fs::path whole = fs::absolute(path, ignored).lexically_normal();
      if (seen.emplace(folder.camera, whole).second) files.push_back({folder.camera, std::move(whole), {}, {}});
    }
  }
  return files;
}

void look_at(Candidate& candidate, const std::stop_token& stop) {
  const auto identity = media::identify(candidate.path);
  if (!identity) {
    candidate.failure = identity.error();
    return;
  }
  auto info = media::probe(candidate.path, stop);
  if (!info) {
    candidate.failure = info.error();
    return;
  }
  candidate.footage = Footage{candidate.path, *identity, std::move(*info)};
}

Done look_at_all(std::vector<Candidate>& files, const Watch& watch) {
  std::mutex guard;
  std::size_t done = 0;
  for_each_index(static_cast<int>(files.size()), watch.threads, watch.stop, [&](int index) {
    Candidate& candidate = files[static_cast<std::size_t>(index)];
    look_at(candidate, watch.stop);
    const std::lock_guard lock{guard};
    ++done;
    watch.tell(static_cast<double>(done) / static_cast<double>(files.size()),
               "reading " + candidate.path.filename().string());
  });
  if (watch.stop.stop_requested())
    return Error{Code::cancelled, "The import was stopped. Nothing was added to the journal."};
  return {};
}

/// The reason alone: the list names the file already.
std::string without_name(const Error& error, const fs::path& path) {
  const std::string named = "\"" + path.filename().string() + "\": ";
  const std::string& message = error.message();
  return message.starts_with(named) ? message.substr(named.size()) : message;
}

/// Files that hold footage, by camera; the rest goes into the report.
std::map<std::string, std::vector<Footage>> sort_out(std::vector<Candidate>& files, ImportReport& report) {
  std::map<std::string, std::vector<Footage>> by_camera;
  for (Candidate& candidate : files) {
    if (candidate.footage) {
      by_camera[candidate.camera].push_back(std::move(*candidate.footage));
      continue;
    }
    // No footage, and not called footage: a text, a thumbnail, an index that cameras leave on cards.
    if (candidate.failure->code() == Code::unsupported && !named_like_footage(candidate.path)) {
      ++report.left_out;
    } else {
      report.unreadable.push_back({candidate.camera, candidate.path, without_name(*candidate.failure, candidate.path)});
    }
  }
  return by_camera;
}

/// Cameras may write a small twin beside each file; only the large one is footage.
void drop_small_twins(std::vector<Footage>& footage, ImportReport& report) {
  const auto pixels = [](const Footage& f) {
    return f.info.picture ? f.info.picture->width * f.info.picture->height : 0;
  };
  const auto is_small_twin = [&](const Footage& small) {
    return std::any_of(footage.begin(), footage.end(), [&](const Footage& large) {
      return large.path.parent_path() == small.path.parent_path() && large.path.stem() == small.path.stem() &&
             pixels(large) > pixels(small) && pixels(small) > 0 &&
             std::chrono::abs(large.info.length - small.info.length) < std::chrono::milliseconds{500};
    });
  };
  std::vector<Footage> kept;
  for (const Footage& file : footage) {
    if (is_small_twin(file)) {
      ++report.left_out;
      report.notes.push_back(file.path.filename().string() +
                             " is a smaller copy of the file with the same name; it was left out.");
    } else {
      kept.push_back(file);
    }
  }
  footage = std::move(kept);
}

/// Takes out what the journal holds already, following files that have moved.
Done drop_known(const store::Store& store, std::vector<Footage>& footage,
                std::vector<std::pair<journal::PartId, fs::path>>& moved, ImportReport& report) {
  std::vector<Footage> fresh;
  std::set<FileIdentity> seen;
  for (Footage& file : footage) {
    const auto known = store.part(file.identity);
    if (!known) return known.error();
    if (*known) {
      std::error_code ignored;
      if ((*known)->path == file.path || fs::exists((*known)->path, ignored)) {
        ++report.known_already;
      } else {
        moved.emplace_back((*known)->id, file.path);
        ++report.relinked;
      }
    } else if (!seen.insert(file.identity).second) {
      ++report.known_already;
      report.notes.push_back(file.path.filename().string() +
                             " is the same file as another one on these cards; it counts once.");
    } else {
      fresh.push_back(std::move(file));
    }
  }
  footage = std::move(fresh);
  return {};
}

std::vector<Take> takes_of(const std::string& camera, const std::vector<Footage>& footage,
                           const std::stop_token& stop) {
  std::vector<Take> takes;
  const auto goes_on = [&](const Footage& a, const Footage& b) {
    return pictures_go_on(a.path, a.info, b.path, b.info, stop);
  };
  for (const std::vector<std::size_t>& parts : join_recordings(footage, goes_on)) {
    Take take{camera, {}, {}, false};
    for (const std::size_t part : parts) take.parts.push_back(footage[part]);
    takes.push_back(std::move(take));
  }
  return takes;
}

Length length_of(const Take& take) {
  Length length{0};
  for (const Footage& part : take.parts) length += part.info.length;
  return length;
}

Done date_takes(std::vector<Take>& takes, const ImportRequest& request, const Zone& zone, ImportReport& report) {
  if (request.session) {
    for (Take& take : takes) take.date = request.session;
    return {};
  }
  std::map<std::string, int> cameras;
  std::vector<Timed> timed;
  for (const Take& take : takes) {
    const auto number = cameras.emplace(take.camera, static_cast<int>(cameras.size())).first->second;
    const auto told = best_claim(take.parts.front().info.clocks, take.parts.front().info.length, zone);
    timed.push_back({number, told ? std::optional{told->begin} : std::nullopt, length_of(take)});
  }
  const auto dates = date_recordings(timed, zone);
  for (std::size_t i = 0; i < takes.size(); ++i) {
    if (!dates[i]) {
      return Error{Code::invalid, "No clock in this footage tells the day. Say it: --session YYYY-MM-DD."};
    }
    takes[i].date = dates[i]->date;
    takes[i].clock_doubted = dates[i]->clock_doubted;
    if (dates[i]->clock_doubted) {
      report.notes.push_back("The clock of " + takes[i].parts.front().path.filename().string() + " (camera " +
                             takes[i].camera + ") names another day; it was taken for " + to_text(dates[i]->date) +
                             " with the rest.");
    }
  }
  return {};
}

journal::Part part_of(const Footage& footage, ClipTime from) {
  return {{}, footage.path, footage.identity, from, footage.info.length, footage.info.clocks};
}

journal::Clip clip_of(const Take& take) {
  journal::Clip clip;
  const media::MediaInfo& first = take.parts.front().info;
  if (first.sound) clip.sound = journal::Sound{first.sound->codec, first.sound->sample_rate_hz, first.sound->channels};
  if (first.picture) {
    clip.pictures = journal::Pictures{first.picture->codec, first.picture->width, first.picture->height,
                                      first.picture->picture_length};
  }
  for (const Footage& part : take.parts) {
    clip.parts.push_back(part_of(part, ClipTime{clip.length}));
    clip.length += part.info.length;
    for (const std::string& note : part.info.notes) clip.notes.push_back(part.path.filename().string() + ": " + note);
  }
  return clip;
}

/// Finds or adds what an import needs, inside one edit.
class Filing {
 public:
  Filing(store::Edit& edit, journal::Register known, std::vector<journal::Session> sessions)
      : edit_{edit}, known_{std::move(known)}, sessions_{std::move(sessions)} {}

  Result<journal::CameraId> camera(const std::string& name) {
    if (const journal::Camera* found = known_.camera(name)) return found->id;
    const auto added = edit_.add(journal::Camera{{}, name});
    if (added) known_.cameras.push_back({*added, name});
    return added;
  }

  Result<journal::SessionId> session(year_month_day date) {
    for (const journal::Session& session : sessions_) {
      if (session.date == date) return session.id;
    }
    journal::Session session;
    session.date = date;
    const auto added = edit_.add(session);
    if (!added) return added;
    session.id = *added;
    sessions_.push_back(session);
    return added;
  }

  Done add(const Take& take, ImportReport& report) {
    const auto camera_id = camera(take.camera);
    if (!camera_id) return camera_id.error();
    const auto session_id = session(*take.date);
    if (!session_id) return session_id.error();
    journal::Clip clip = clip_of(take);
    clip.camera = *camera_id;
    clip.session = *session_id;
    const auto added = edit_.add(clip);
    if (!added) return added.error();
    ImportedClip imported{take.camera, *take.date, {}, clip.length};
    for (const Footage& part : take.parts) {
      imported.files.push_back(part.path);
      // A file that could not be read before and now can (copied again) is no longer on the list.
      if (const Done cleared = edit_.remove_unreadable(*session_id, part.path); !cleared) return cleared;
    }
    report.clips.push_back(std::move(imported));
    return {};
  }

 private:
  store::Edit& edit_;
  journal::Register known_;
  std::vector<journal::Session> sessions_;
};

/// The session an unreadable file is listed under: the asked one, else that of its camera's takes, else any of the
/// import.
std::optional<year_month_day> date_of(const UnreadableFile& file, const ImportRequest& request,
                                      const std::vector<Take>& takes, const std::vector<journal::Session>& sessions) {
  if (request.session) return request.session;
  for (const Take& take : takes) {
    if (take.camera == file.camera) return take.date;
  }
  if (!takes.empty()) return takes.front().date;
  if (!sessions.empty()) return sessions.back().date;
  return std::nullopt;
}

}  // namespace

Result<ImportReport> import_footage(store::Store& store, const ImportRequest& request, const Watch& watch) {
  ImportReport report;
  const auto build = store.build();
  if (!build) return build.error();
  const auto zone = Zone::find(build->zone);
  if (!zone) return zone.error();

  auto files = list_files(request, report);
  if (!files) return files.error();
  if (const Done looked = look_at_all(*files, watch); !looked) return looked.error();
  auto by_camera = sort_out(*files, report);

  std::vector<Take> takes;
  std::vector<std::pair<journal::PartId, fs::path>> moved;
  for (auto& [camera, footage] : by_camera) {
    drop_small_twins(footage, report);
    if (const Done dropped = drop_known(store, footage, moved, report); !dropped) return dropped.error();
    settle_edges(footage);
    for (Take& take : takes_of(camera, footage, watch.stop)) takes.push_back(std::move(take));
  }
  if (watch.stop.stop_requested())
    return Error{Code::cancelled, "The import was stopped. Nothing was added to the journal."};
  if (const Done dated = date_takes(takes, request, *zone, report); !dated) return dated.error();

  const auto known = store.known();
  if (!known) return known.error();
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  const Done stored = store.edit("import footage", [&](store::Edit& edit) -> Done {
    Filing filing{edit, *known, *sessions};
    for (const auto& [part, path] : moved) {
      if (const Done relinked = edit.relink(part, path); !relinked) return relinked;
    }
    for (const Take& take : takes) {
      if (const Done added = filing.add(take, report); !added) return added;
    }
    for (const UnreadableFile& file : report.unreadable) {
      const auto date = date_of(file, request, takes, *sessions);
      if (!date) continue;
      const auto camera = filing.camera(file.camera);
      if (!camera) return camera.error();
      const auto session = filing.session(*date);
      if (!session) return session.error();
      if (const Done listed = edit.add(journal::Unreadable{*session, *camera, file.path, file.why}); !listed)
        return listed;
    }
    return {};
  });
  if (!stored) return stored.error();
  return report;
}

}  // namespace jigtime::actions
