// Which files are parts of one recording.
// Must never know: the journal, files, decoding. Pure: the look at the pictures is handed in.
// Begin reading at: join_recordings.
#pragma once

#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/file_identity.h"
#include "media/probe.h"

namespace jigtime::actions {

struct Footage {
  std::filesystem::path path;
  FileIdentity identity;
  media::MediaInfo info;
};

/// Whether the pictures of `after` go on where those of `before` end. Asked only of pairs that may belong together.
using PicturesGoOn = std::function<bool(const Footage& before, const Footage& after)>;

/// The file's first reading of that source, the most trusted of its kind; null without one.
const ClockReading* reading_of(const media::MediaInfo& info, ClockSource source);

/// Whether one device with one setting may have made both: container, pictures and sound of the same form.
bool same_form(const media::MediaInfo& a, const media::MediaInfo& b);

/// Indexes into the footage, parts in order; the recordings in natural order of their first file.
/// Two files of one camera belong together when their sound and pictures have the same form, the pictures go on, and
/// either one kind of clock says that the second begins where the first ended, or both carry the same stamp (that of
/// the recording) and consecutive numbers. Files with no clock to compare are left apart: sound decides about them at
/// the line-up. A stamp is read as its edge says (settle_edges); one said to mark the beginning is read as an end only
/// where the two files would overlap otherwise: else every pause as long as the second file would be lost.
std::vector<std::vector<std::size_t>> join_recordings(std::span<const Footage> footage, const PicturesGoOn& goes_on);

/// What the clocks of two files say about the second following the first at once.
enum class Follows { yes, same_stamp, no, unknown };
Follows clocks_follow(const media::MediaInfo& before, const media::MediaInfo& after);

/// Same names but for one number (or one letter at the end) that is one higher.
bool numbers_follow(std::string_view before, std::string_view after);

}  // namespace jigtime::actions
