#include "sync/agreed_blows.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"
#include "sync/judge.h"
#include "sync/pieces.h"

namespace jigtime::sync {

namespace {

constexpr double same_loss = 0.015;  // seconds, less than from blow to blow, and about what places in a shop differ by
constexpr double same_moment = 1;    // seconds beside what either leaves open: windows overlap
constexpr double about_join = 3;     // seconds: where faint work was done, a jump is placed no better

/// By how much, and between which of its seconds, one clip of a pair lost time.
struct Jump {
  int loser = 0;
  int other = 0;
  double seconds = 0;
  double earliest = 0;
  double latest = 0;
};

Jump jump_of(const PairMatch& match, const Segment& before, const Segment& after) {
  const double seconds = step_between(before, after);
  const double earliest = before.to - after.loose, latest = after.from + after.loose;
  if (seconds > 0) return {match.a, match.b, seconds, earliest, latest};
  return {match.b, match.a, -seconds, earliest + before.fit.line(earliest), latest + after.fit.line(latest)};
}

std::vector<Jump> jumps_of(const std::vector<PairMatch>& matches) {
  std::vector<Jump> jumps;
  for (const PairMatch& match : matches) {
    if (match.segments.empty()) continue;
    const std::vector<Segment>& pieces = match.with_blows.empty() ? match.segments : match.with_blows;
    for (std::size_t i = 0; i + 1 < pieces.size(); ++i) jumps.push_back(jump_of(match, pieces[i], pieces[i + 1]));
  }
  return jumps;
}

bool tell_the_same(const Jump& one, const Jump& other) {
  return one.loser == other.loser && one.other != other.other && std::abs(one.seconds - other.seconds) < same_loss &&
         std::max(one.earliest, other.earliest) < std::min(one.latest, other.latest) + same_moment;
}

/// The places where parts of the loser's recording meet about which the jump may lie.
std::vector<ClipTime> joins_about(const std::vector<ClipInput>& clips, const Jump& jump) {
  std::vector<ClipTime> joins = clips[at(jump.loser)].joins;
  std::erase_if(joins, [&](ClipTime join) {
    const double t = to_seconds(join);
    return t < jump.earliest - about_join || t > jump.latest + about_join;
  });
  return joins;
}

/// A recorder that needs a moment to begin the next part loses as much each time.
bool same_hole(const std::vector<ClipInput>& clips, const Jump& one, const Jump& other) {
  if (one.loser != other.loser || std::abs(one.seconds - other.seconds) >= same_loss) return false;
  const auto about_one = joins_about(clips, one), about_other = joins_about(clips, other);
  return about_one.size() == 1 && about_other.size() == 1 && about_one.front() != about_other.front();
}

}  // namespace

void believe_agreed(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches) {
  const std::vector<Jump> all = jumps_of(matches);
  for (PairMatch& match : matches) {
    if (match.with_blows.empty() || match.segments.empty()) continue;
    std::vector<Segment> pieces = match.with_blows;
    leave_out_blows(pieces, [&](const Segment& before, const Segment& after) {
      const Jump jump = jump_of(match, before, after);
      return std::ranges::any_of(
          all, [&](const Jump& other) { return tell_the_same(jump, other) || same_hole(clips, jump, other); });
    });
    join_pieces(pieces);
    if (pieces.size() <= match.segments.size()) continue;
    match.segments = std::move(pieces);
    match.overlap = length_of(match.segments);
  }
}

}  // namespace jigtime::sync
