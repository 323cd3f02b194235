// Pictures of a moment, out of the footage.
#pragma once

#include <cstdint>
#include <filesystem>
#include <stop_token>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

struct MomentPicture {
  std::vector<std::uint8_t> jpeg;
  journal::CameraId camera;
  journal::ClipId clip;
  ClipTime at;  ///< when the picture on show began, on the clip's own time
};

enum class PictureSize { page, whole };  ///< page: 640 wide at most

/// The picture on show at `at`, as JPEG, from the reference camera if it saw it, else from any camera that did (the
/// largest picture first). Code::not_found when none ran; the footage's own error when it cannot be read.
Result<MomentPicture> picture_at(const journal::SessionRecord& record, SessionTime at, PictureSize size,
                                 const std::stop_token& stop);

/// Its JPEG alone, for a page.
Result<std::vector<std::uint8_t>> still_at(const journal::SessionRecord& record, SessionTime at,
                                           const std::stop_token& stop);

/// The picture of one clip on show at `at`, as JPEG. not_found when its footage was let go or is elsewhere: the message
/// says which.
Result<std::vector<std::uint8_t>> still_of_clip(const journal::Clip& clip, ClipTime at, const std::stop_token& stop);

struct KeptStill {
  SessionTime at;
  std::string digest;  ///< hex SHA-256 of the JPEG file
};

struct StillsReport {
  std::vector<KeptStill> kept;
  int known_already = 0;           ///< marks that have a still
  std::vector<std::string> notes;  ///< marks of which no picture could be had, and why
};

/// Keeps a picture of every mark that has none yet in the journal, whole size, with its digest: evidence that stays
/// when the footage goes. One edit. Errors: conflict (sealed), cancelled, the store's.
Result<StillsReport> keep_stills_of_marks(store::Store& store, journal::SessionId session, const Watch& watch);

/// The same of one moment. Errors besides: as picture_at.
Result<KeptStill> keep_still(store::Store& store, journal::SessionId session, SessionTime at, const Watch& watch);

/// Writes the stills that the journal keeps as JPEG files into a folder, made if need be. A file that is there already
/// with other content is not touched: Code::conflict. Returns the files.
Result<std::vector<std::filesystem::path>> write_stills(const store::Store& store, journal::SessionId session,
                                                        const std::filesystem::path& folder);

}  // namespace jigtime::actions
