// What two clips say about each other.
// Must never know: a third clip, clocks.
// Begin reading at: PairMatcher::match.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <stop_token>
#include <vector>

#include "sync/candidates.h"
#include "sync/close_search.h"
#include "sync/hearable.h"
#include "sync/lag_map.h"
#include "sync/segment.h"
#include "sync/track.h"

namespace jigtime::sync {

/// Clip seconds of a that b heard too, if the line is right; its length is not positive where there are none.
Extent overlap_of(const Hearable& a, const Hearable& b, const Line& line);

struct PairMatch {
  int a = 0;
  int b = 0;
  double overlap = 0;             ///< seconds that both clips cover if the segments are right
  std::vector<Segment> segments;  ///< in a's order and b's; empty when nothing was proven
  std::vector<Segment> rivals;    ///< two places of which neither is much better; then segments is empty
  /// What is proven, but may be a song of two days or too little of what was heard; then the others are empty.
  std::vector<Segment> doubted{};
  /// The same as these, but with the jumps of a blow or two that were left out there (leave_out_blows), in doubt as
  /// they are for one pair alone; empty where none was.
  std::vector<Segment> with_blows{};
  bool against_clocks = false;  ///< the same, by both cameras' clocks on this day: one of these or the sound is wrong
  // Of segments, or of doubted: before and after which of a's seconds the two part company (parts_company).
  double unmatched_to = -1e9;
  double unmatched_from = 1e9;

  bool tells() const { return !segments.empty() || !rivals.empty(); }
};

/// One object for each thread.
class PairMatcher {
 public:
  /// Whether the clips' clocks put them near the first candidates, as other clips tell these; where else the two are
  /// proven to have heard the same, or by which other clips to have run together.
  enum class Known { nothing, by_clocks, elsewhere };

  PairMatcher();
  /// Every step for one pair. `candidates` come likeliest first. What sounds alike on another day is refused, unless it
  /// is known that the two ran together. `others`, likeliest first: where else a song may repeat itself or may have
  /// been heard all along, if not at the candidates.
  PairMatch match(const Hearable& a, const Hearable& b, std::span<const Candidate> candidates,
                  const std::stop_token& stop, Known known = Known::nothing, std::span<const Candidate> others = {});

 private:
  static constexpr double least_stretch = 5;  ///< seconds in which anything can be proven
  static constexpr int windows_wanted = 64;
  static constexpr double same_cameras_slope = 6e-6;  ///< a pair's slope changes by less while it runs
  static constexpr Demand obvious{14, 1.8, 9};
  static constexpr double doubtful = 0.12;  ///< windows that speak against a line, for each that speaks for it
  static constexpr double as_well = 0.5;    ///< of the best proof, that of places elsewhere where nearly all agree

  struct Pair {
    const Hearable& a;
    const Hearable& b;
  };
  struct Sampling {
    double apart = 0;  ///< seconds from window to window
    int most = 0;
    FineMatcher* matcher = nullptr;
  };
  /// The line near the candidate's that the windows bear out beyond doubt.
  std::optional<Line> prove(const Pair& pair, const Candidate& candidate, const Extent& both, const Demand& demand);
  bool well_proven(const Pair& pair, const LagMap& map, const Segment& main, const Extent& within, Known known);
  /// `heard_clearly`: by the coarse search, in a gap of what is proven.
  std::vector<Segment> follow_candidate(const Pair& pair, const Candidate& candidate, const Extent& within, Known known,
                                        bool heard_clearly = false);
  std::vector<Segment> follow_anew(const Pair& pair, const Candidate& candidate, const Extent& within, Known known,
                                   bool heard_clearly);
  /// The parts of a recording each by itself, where a little was lost between them. `whole`: a map of all `within`
  /// about a line near theirs, if there is one.
  std::vector<Segment> follow_parts(const Pair& pair, std::span<const Candidate> parts, const Extent& within,
                                    Known known, const LagMap* whole = nullptr);
  /// Where a clip lost time more than once, hardly any line holds for enough of the whole overlap to be proven by it:
  /// the first of the candidates that the coarse search heard clearly and that holds around where it was heard.
  std::vector<Segment> prove_part(const Pair& pair, std::span<const Candidate> candidates, Known known,
                                  const std::stop_token& stop);
  /// A candidate that the whole overlap does not bear out may hold before or after a loss. Adds what it finds.
  void follow_in_gaps(const Pair& pair, const Candidate& candidate, std::vector<Segment>& proven,
                      bool heard_clearly = false);
  /// A piece at the candidate, of a gap in which noise hides single windows, but not their sum: it must stand out there
  /// and hardly be anything along the main line.
  std::optional<Segment> heard_in_noise(const Pair& pair, const Candidate& candidate, const Extent& gap,
                                        const Segment& main);
  /// All that the windows bear out, at whichever candidate; if they bear anything out, at the others too.
  std::vector<Segment> prove_all(const Pair& pair, std::span<const Candidate> candidates,
                                 std::span<const Candidate> others, Known known, const std::stop_token& stop);
  /// Where both heard much that no line explains, the sound itself is asked. Adds what it finds.
  void search_gaps(const Pair& pair, std::vector<Segment>& proven, const std::stop_token& stop);
  /// Before and after what is proven, a clip that lost time lies on another line: too little of the whole to be seen
  /// in it, but not in its own stretch. Adds what it finds.
  void look_beside(const Pair& pair, std::vector<Segment>& proven);
  struct Doubt {
    double share = 0;    ///< windows that speak against what agrees, for each that speaks for it
    bool alone = false;  ///< hardly anything stands out elsewhere
    double blows = 0;    ///< of many blows the share that the other clip hears, if nearly all are; else 0
  };
  using Votes = std::vector<std::vector<Vote>>;  ///< of each window
  struct Elsewhere {
    bool on_another_line = false;  ///< the piece's stretch fits another piece's line better
    std::vector<Segment> instead;  ///< what that bears out there, if anything is proven
    std::optional<Segment> rival;  ///< or about as well at a lag of its own
  };
  Elsewhere doubt(const Pair& pair, const Segment& piece, const std::vector<Segment>& others,
                  const std::stop_token& stop);
  /// What a piece's own stretch of a bears out at other lags, which its windows voted for; with the slope of `main`.
  std::vector<Segment> heard_elsewhere(const Pair& pair, const Segment& piece, const Segment& main, Votes votes,
                                       const std::stop_token& stop);
  /// What a piece's own stretch bears out on the line of before or after, half a second or more away, better than on
  /// its own; or nearly as well where these are about the same, so that the piece needs two losses, one of either clip.
  std::vector<Segment> heard_on_neighbours(const Pair& pair, const Segment& piece,
                                           const std::vector<Segment>& neighbours);
  /// What a stretch of a bears out about a line.
  std::vector<Segment> proven_in(const Pair& pair, const Extent& own, const Line& line);
  /// A song that repeats itself fits in many places, and a bar is easily taken for what a clip lost. Takes out the
  /// pieces in whose stretch another's line fits better; gives one, and another place for it, that its stretch
  /// bears out about as well at a lag of its own.
  std::vector<Segment> doubt_losses(const Pair& pair, std::vector<Segment>& pieces, const std::stop_token& stop);
  /// The candidates that may be bars of what is at `main`: `share` of the blows agree there.
  static std::vector<Candidate> where_blows_agree(const Pair& pair, std::span<const Candidate> candidates,
                                                  const Segment& main, double share);
  /// Whether what agrees is a song alone; and whether it agrees elsewhere so well that its place is in doubt too.
  enum class Repeats { no, less_well, as_well };
  Repeats repeats_itself(const Pair& pair, std::span<const Candidate> candidates, std::vector<Segment> proven,
                         const std::vector<Segment>& pieces, const Doubt& doubt, const std::stop_token& stop);
  /// Joins what lies on one line, and tells closer where one piece ends and the next begins.
  void finish(const Pair& pair, std::vector<Segment>& pieces);
  /// Whether the two go on hearing other things before and after the pieces; sets unmatched_to and unmatched_from.
  void look_for_unmatched(const Pair& pair, const std::vector<Segment>& pieces, PairMatch& match);
  /// The segment with glimpses of a stretch along its line.
  Segment glimpsed(const Pair& pair, const Segment& segment, const Extent& within);
  LagMap map_of(const Pair& pair, const Line& line, const Extent& within, const Sampling& sampling);
  /// A map around the line, where it lies too far from the given map's base for that to keep its samples: beside a
  /// loss.
  std::optional<LagMap> map_about(const Pair& pair, const LagMap& map, const Line& line, const Extent& within,
                                  const Sampling& sampling);
  /// What a run's windows say by themselves; the slope is looked for within `slope_reach` of the run's.
  std::optional<Segment> segment_of(const Pair& pair, const LagMap& map, const Run& run, double slope_reach);
  /// The strongest run, and those others of which the windows say clearly that they do not lie on its line.
  std::vector<Segment> segments_of(const Pair& pair, const LagMap& map, const Line& line, std::vector<Run> runs,
                                   double slope_reach);
  bool clearly_beside(const LagMap& map, const Run& run, const Segment& segment, const Line& main);
  FineMatcher& matcher_for(double overlap);
  /// Seconds from window to window over a stretch of that length.
  static double apart_over(double length, const FineMatcher& matcher);

  /// What was asked of the pair at hand, so that it is not asked again: most gaps stay as they are where something is
  /// found in others.
  struct Asked {
    using Question = std::array<double, 10>;              ///< all that the answer hangs on
    std::map<Question, std::vector<Segment>> followed{};  ///< candidates, in vain or not
    std::set<Question> in_vain{};                         ///< of what noise hides in a gap
    std::map<Question, std::vector<Candidate>> heard{};   ///< by the sound itself
  };

  FineMatcher long_, middle_, short_;
  CloseSearch close_;
  Asked asked_;
};

}  // namespace jigtime::sync
