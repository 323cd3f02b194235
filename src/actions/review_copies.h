// Small copies of the footage that are quick to seek in. Disposable: a folder of them may be deleted at any time.
// Must never know: windows, the store.
// Begin reading at: make_review_copies, find_review_copy.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "actions/watch.h"
#include "base/file_identity.h"
#include "base/result.h"
#include "journal/values.h"

namespace jigtime::actions {

struct CopySettings {
  std::filesystem::path folder;            ///< empty: review_folder()
  std::uint64_t most_bytes = 20ULL << 30;  ///< all copies together; the longest unused go first
  int width = 640;                         ///< at most; a narrower source keeps its size
  int key_every = 12;                      ///< pictures from one key picture to the next
};

/// "review" under cache_folder(), made by the first copy.
std::filesystem::path review_folder();

/// The finished copy of the file with that identity, if there is one; it then counts as used now. Opens nothing.
std::optional<std::filesystem::path> find_review_copy(const FileIdentity& source,
                                                      const std::filesystem::path& folder = {});

struct CopiesReport {
  int made = 0;
  int known_already = 0;
  std::vector<std::string> notes;  ///< files of which no copy could be made, and why; the source stands in
};

/// A copy of every file of the record's clips that has pictures, one after another; watch.tell after every second of
/// footage or so. A copy is whole or not there. One bad file never stops the rest. Copies that the limit pushes out
/// are the longest unused; when what is asked for exceeds the limit, it stops and says so in a note.
/// Errors: cancelled (finished copies stay), no_space, denied.
Result<CopiesReport> make_review_copies(const std::vector<journal::Clip>& clips, const CopySettings& settings,
                                        const Watch& watch);

/// Deletes a copy that could not be read. Only files that this made itself are ever touched.
void drop_review_copy(const std::filesystem::path& copy);
/// Deletes the longest unused copies until all together hold at most `most_bytes`.
void trim_review_copies(std::uint64_t most_bytes, const std::filesystem::path& folder = {});

}  // namespace jigtime::actions
