#include "actions/footage.h"

#include <algorithm>
#include <map>
#include <system_error>

#include "actions/scan.h"
#include "actions/stills.h"
#include "base/text.h"
#include "media/probe.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

struct Look {
  FootageState state = FootageState::present;
  std::string why;
};

Look look_at(const journal::Clip& clip, const journal::Part& part) {
  const std::string name = to_utf8(part.path.filename().string());
  std::error_code ignored;
  const bool there = fs::exists(part.path, ignored);
  if (clip.let_go) {
    return {FootageState::let_go, name + " was let go on " + jigtime::to_text(clip.let_go->on) + " (" +
                                      clip.let_go->reason +
                                      "). What the journal keeps of it are its place, its spans and its stills."};
  }
  if (!there) {
    return {FootageState::elsewhere, name + " is not where it was (" + to_utf8(part.path.parent_path().string()) +
                                         "). Attach its disk, or say where to look: jigtime footage JOURNAL --look-in "
                                         "FOLDER."};
  }
  const auto identity = media::identify(part.path);
  if (!identity) return {FootageState::elsewhere, identity.error().message()};
  if (*identity == part.identity) return {};
  return {FootageState::elsewhere,
          "In the place of " + name + " lies another file now. Look for the right one with --look-in FOLDER."};
}

Result<journal::Clip> clip_called(const journal::SessionRecord& record, const std::string& name) {
  for (const journal::Clip& clip : record.clips) {
    for (const journal::Part& part : clip.parts) {
      if (part.path.filename() == name) return clip;
    }
  }
  return Error{Code::not_found, "No clip of the session of " + jigtime::to_text(record.session.date) +
                                    " has a file \"" + name + "\". \"jigtime footage\" prints them."};
}

/// Stills of the clip's marks that are not kept yet.
std::vector<std::pair<journal::Still, std::string>> stills_to_keep(const journal::SessionRecord& record,
                                                                   const journal::Clip& clip, GivenUp& given_up,
                                                                   const Watch& watch) {
  std::vector<std::pair<journal::Still, std::string>> stills;
  const journal::Placement* placement = record.placement(clip.id);
  if (placement == nullptr || !clip.pictures || record.entry) return stills;
  for (const journal::Mark& mark : record.marks) {
    const Piece* piece = piece_at(placement->pieces, mark.at);
    if (piece == nullptr) continue;
    const auto bytes = still_of_clip(clip, piece->to_clip(mark.at), watch.stop);
    if (!bytes) {
      given_up.notes.push_back("No still of the mark at " + to_clock_text(mark.at) + ": " + bytes.error().message());
      continue;
    }
    std::string jpeg(bytes->begin(), bytes->end());
    journal::Still still{{},      record.session.id,       mark.at, clip.camera,
                         clip.id, piece->to_clip(mark.at), mark.id, store::sha256_hex(jpeg)};
    stills.emplace_back(std::move(still), std::move(jpeg));
  }
  return stills;
}

/// Parts that are not where the journal says, by what they are.
using Lost = std::map<FileIdentity, std::vector<journal::PartId>>;

Result<Lost> lost_parts(const store::Store& store, std::optional<journal::SessionId> only) {
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  Lost lost;
  for (const journal::Session& session : *sessions) {
    if (only && session.id != *only) continue;
    const auto record = store.record(session.id);
    if (!record) return record.error();
    for (const journal::Clip& clip : record->clips) {
      for (const journal::Part& part : clip.parts) {
        std::error_code ignored;
        if (clip.let_go ? !fs::exists(part.path, ignored) : look_at(clip, part).state == FootageState::elsewhere) {
          lost[part.identity].push_back(part.id);
        }
      }
    }
  }
  return lost;
}

}  // namespace

std::string_view state_text(FootageState state) {
  switch (state) {
    case FootageState::present: return "present";
    case FootageState::elsewhere: return "elsewhere";
    case FootageState::let_go: return "let go";
  }
  return "elsewhere";
}

Result<std::vector<FootageFile>> list_footage(const store::Store& store, journal::SessionId session) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto known = store.known();
  if (!known) return known.error();
  std::vector<FootageFile> files;
  for (const journal::Clip& clip : record->clips) {
    const journal::Camera* camera = known->camera(clip.camera);
    for (const journal::Part& part : clip.parts) {
      Look look = look_at(clip, part);
      files.push_back({clip.id, part.id, camera == nullptr ? std::string{} : camera->name, clip.name(), part.path,
                       look.state, std::move(look.why)});
    }
  }
  return files;
}

Result<fs::path> source_of(const journal::Clip& clip, const journal::Part& part) {
  std::error_code ignored;
  // Opening finds out whether it is the right file; here only what a reader could not say matters.
  if (fs::exists(part.path, ignored)) return part.path;
  return Error{Code::not_found, look_at(clip, part).why};
}

Result<GivenUp> let_footage_go(store::Store& store, journal::SessionId session, const LettingGo& what,
                               const Watch& watch) {
  const auto record = store.record(session);
  if (!record) return record.error();
  const auto clip = clip_called(*record, what.clip);
  if (!clip) return clip.error();
  journal::LetGo let_go{what.on, what.reason};
  if (!what.kept_copy.empty()) {
    const auto copy = media::identify(what.kept_copy);
    if (!copy) return copy.error();
    let_go.kept_copy = fs::absolute(what.kept_copy);
    let_go.kept_is = *copy;
  }
  GivenUp given_up;
  const auto stills = stills_to_keep(*record, *clip, given_up, watch);
  const Done done = store.edit("let footage go", [&](store::Edit& edit) -> Done {
    for (const auto& [still, bytes] : stills) {
      if (const auto added = edit.add(still, bytes); !added) return added.error();
    }
    return edit.let_go(clip->id, let_go);
  });
  if (!done) return done.error();
  given_up.stills_kept = static_cast<int>(stills.size());
  for (const journal::Part& part : clip->parts) {
    std::error_code ignored;
    if (fs::exists(part.path, ignored)) given_up.files_still_there.push_back(part.path);
  }
  return given_up;
}

Result<FoundAgain> look_in(store::Store& store, std::optional<journal::SessionId> session, const fs::path& folder,
                           const Watch& watch) {
  auto lost = lost_parts(store, session);
  if (!lost) return lost.error();
  const auto there = scan(fs::absolute(folder));
  if (!there) return there.error();
  std::map<journal::PartId, fs::path> found;
  for (const fs::path& path : there->files) {
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "The search was stopped. Nothing was changed."};
    std::error_code failed;
    const std::uintmax_t size = fs::file_size(path, failed);
    const bool wanted = !failed && std::any_of(lost->begin(), lost->end(),
                                               [&](const auto& row) { return row.first.size_bytes == size; });
    if (!wanted) continue;
    const auto identity = media::identify(path);
    if (!identity) continue;
    const auto parts = lost->find(*identity);
    if (parts == lost->end()) continue;
    for (const journal::PartId part : parts->second) found.emplace(part, path);
  }
  const Done done = store.edit("find footage again", [&](store::Edit& edit) -> Done {
    for (const auto& [part, path] : found) {
      if (Done moved = edit.relink(part, path); !moved) return moved;
    }
    return {};
  });
  if (!done) return done.error();
  FoundAgain result{static_cast<int>(found.size()), {}};
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  for (const journal::Session& row : *sessions) {
    if (session && row.id != *session) continue;
    const auto files = list_footage(store, row.id);
    if (!files) return files.error();
    for (const FootageFile& file : *files) {
      if (file.state == FootageState::elsewhere) result.missing.push_back(file.path);
    }
  }
  return result;
}

}  // namespace jigtime::actions
