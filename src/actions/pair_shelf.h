// What pairs of clips said about each other, kept in the cache folder between line-ups: adding a clip costs that clip.
// Must never know: what the bytes mean.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "sync/line_up.h"

namespace jigtime::actions {

/// One file for each clip, holding its pairs with clips that come second. Anything garbled is as if it were not there.
class PairShelf : public sync::PairMemory {
 public:
  /// `keys` names the sound of each clip as the cache does; empty for a clip without. Reads what is kept.
  explicit PairShelf(std::vector<std::string> keys);

  std::optional<std::vector<std::uint8_t>> recall(int clip_a, int clip_b) override;
  void keep(int clip_a, int clip_b, std::vector<std::uint8_t> facts) override;
  /// Writes what has changed. Never an error: where nothing can be kept, it is worked out again next time.
  void save() const;

 private:
  using Facts = std::map<std::string, std::vector<std::uint8_t>>;  // by the second clip's key
  std::vector<std::string> keys_;
  std::map<std::string, Facts> shelf_;   // by the first clip's key
  std::map<std::string, bool> changed_;  // likewise
};

}  // namespace jigtime::actions
