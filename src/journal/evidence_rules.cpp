// Photos, stills, and footage that was let go.
#include <algorithm>

#include "base/text.h"
#include "journal/rule_text.h"
#include "journal/rules.h"

namespace jigtime::journal {

Done check(const Photo& photo) {
  if (photo.path.empty()) return invalid("The photo has no path. Name its file.");
  if (photo.sigma < Length{0} || !within_reach(photo.sigma)) {
    return invalid("The photo's standard error cannot be. Place it anew.");
  }
  if (photo.at && !within_reach(photo.at->time_since_epoch())) {
    return invalid("The photo lies more than a hundred years from its session. Check its camera's clock.");
  }
  if (photo.taken && !within_reach(photo.taken->since_epoch)) {
    return invalid("The photo's own date lies more than a hundred years from 1970. Leave it out.");
  }
  if (Done camera = check_short_text(photo.camera, "The photo's camera"); !camera) return camera;
  return check_note(photo.note, "The photo's note");
}

Done check(const Still& still) {
  const bool hex = still.digest.size() == 64 && std::all_of(still.digest.begin(), still.digest.end(), [](char c) {
                     return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
                   });
  if (!hex) return invalid("The still's digest is no SHA-256 in hexadecimal. Take the still again.");
  if (still.at < SessionTime{} || !within_reach(still.at.time_since_epoch())) {
    return invalid("The still (" + to_clock_text(still.at) +
                   ") lies outside its session. Take it at 0:00:00 or later.");
  }
  if (!within_reach(still.clip_at.time_since_epoch())) return invalid("The still's time in its clip cannot be.");
  return {};
}

Done check(const LetGo& let_go) {
  if (!let_go.on.ok()) return invalid("The day the footage was let go is no date. Write it as YYYY-MM-DD.");
  if (trimmed(let_go.reason).empty())
    return invalid("Letting footage go needs a reason. Give one: it stays in the record.");
  if (let_go.kept_copy.empty() == let_go.kept_is.has_value()) {
    return invalid("A kept copy needs its path and its digest. Name the file, or keep none.");
  }
  return check_note(let_go.reason, "The reason");
}

}  // namespace jigtime::journal
