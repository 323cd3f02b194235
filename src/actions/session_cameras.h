// A session's footage, ready to be shown.
#pragma once

#include <filesystem>
#include <vector>

#include "film/cameras.h"
#include "journal/values.h"

namespace jigtime::actions {

/// `ids` names `cameras` one by one.
struct SessionCameras {
  std::vector<journal::CameraId> ids;
  std::vector<film::Camera> cameras;
};

/// Cameras with at least one clip, in the register's order. Looks for finished review copies (review_copies.h) but
/// opens no footage. `copies`: the folder they lie in, empty for the usual one. Call again, and Viewer::replace, after
/// copies were made or a placement was corrected.
SessionCameras cameras_of(const journal::SessionRecord& record, const journal::Register& known,
                          const std::filesystem::path& copies = {});

/// The same without copies: the footage itself.
SessionCameras source_cameras_of(const journal::SessionRecord& record, const journal::Register& known);

}  // namespace jigtime::actions
