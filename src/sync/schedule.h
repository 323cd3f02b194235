// Which pairs of clips are compared sample by sample, in what order, and at which of their candidates.
// Must never know: samples.
// Begin reading at: Schedule::next.
//
// Comparing every clip with every other costs the square of their number, and most do not overlap. What the likeliest
// pairs prove tells where the others must lie: those that then cannot overlap are passed over, those that overlap are
// compared there. No clock is asked here. What has been proven may still be wrong, so a candidate that stands out more
// than luck usually does is always compared, wherever it lies: a contradiction must come to light. Clips of one camera
// cannot have run at once: where one is proven to lie, no other is looked for, unless that stands out far.
#pragma once

#include <optional>
#include <vector>

#include "sync/candidates.h"
#include "sync/pair.h"

namespace jigtime::sync {

/// What may be compared: two clips and where they may lie, best first.
struct Prospect {
  int a = 0;
  int b = 0;
  std::vector<Candidate> candidates;
};

/// One comparison: prospects[prospect] at these of its candidates.
struct Job {
  int prospect = 0;
  std::vector<int> candidates;
};

class Schedule {
 public:
  struct Clip {
    double seconds = 0;
    int camera = 0;
  };
  /// `prospects` must outlive the schedule.
  Schedule(std::vector<Clip> clips, const std::vector<Prospect>& prospects);

  /// What to compare next, all of it at once; empty when nothing is left. What came out is told before the next call.
  std::vector<Job> next();
  void learn(const PairMatch& match);
  /// What was left out for lack of room, of clips of which nothing is proven after all (by clip: `known`).
  std::vector<Job> left_out(const std::vector<bool>& known) const;
  int waiting() const { return static_cast<int>(waiting_.size()); }
  /// Prospects that will not be compared.
  int passed_over() const { return passed_over_; }
  /// The lag of b against a by everything learned so far, to a second or so; nothing unless both surely overlap.
  std::optional<double> expected_lag(int a, int b) const;

 private:
  struct Place {
    int root = 0;      ///< the clip that all of its group are told against
    double zero = 0;   ///< of the clip, seconds on the root's clip time
    double slack = 0;  ///< by how much that may be off
  };
  struct Link {
    int to = 0;
    double zero = 0;  ///< of that clip, seconds on this one's clip time
    double slack = 0;
  };
  struct Relation {
    double lag = 0;
    double slack = 0;
    double overlap = 0;
  };
  /// Tells all of the group where they lie: what may be off adds up along the way, once.
  void place_group(int root);
  std::optional<Relation> relation(int a, int b) const;
  std::vector<int> worth_comparing(const Prospect& prospect, const Relation& relation) const;
  /// The candidates at which neither clip would lie on another of its camera.
  std::vector<int> with_room(const Prospect& prospect) const;
  /// Whether `clip`, begun at `zero` of the group's seconds, would lie on another clip of its camera in that group.
  bool taken(int clip, int group, double zero, double slack) const;
  double seconds(int clip) const { return clips_[static_cast<std::size_t>(clip)].seconds; }

  std::vector<Clip> clips_;
  const std::vector<Prospect>& prospects_;
  std::vector<int> waiting_;              ///< likeliest first
  std::vector<Place> places_;             ///< by clip
  std::vector<std::vector<Link>> links_;  ///< by clip; no loops
  std::vector<int> without_room_;
  int passed_over_ = 0;
};

}  // namespace jigtime::sync
