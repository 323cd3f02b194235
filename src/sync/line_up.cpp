#include "sync/line_up.h"

#include <algorithm>

#include "sync/agreed_blows.h"
#include "sync/assemble.h"
#include "sync/at.h"
#include "sync/compare.h"
#include "sync/joins.h"
#include "sync/one_at_a_time.h"
#include "sync/one_hold.h"
#include "sync/unheard.h"

namespace jigtime::sync {

namespace {

constexpr int most_unheard = 8;  // losses that only three clips together tell, in one session

/// The camera with the most footage that shares sound with others.
int reference_of(const std::vector<ClipInput>& clips, int cameras, const std::vector<PairMatch>& pairs) {
  std::vector<double> shared(at(cameras), 0.0), footage(at(cameras), 0.0);
  for (const PairMatch& pair : pairs) {
    shared[at(clips[at(pair.a)].camera)] += pair.overlap;
    shared[at(clips[at(pair.b)].camera)] += pair.overlap;
  }
  for (const ClipInput& clip : clips) footage[at(clip.camera)] += to_seconds(clip.length);
  int best = 0;
  for (int camera = 1; camera < cameras; ++camera) {
    const auto key = [&](int c) { return std::min(shared[at(c)], footage[at(c)]) + footage[at(c)] * 1e-3; };
    if (key(camera) > key(best)) best = camera;
  }
  return best;
}

void add_ties(const std::vector<Tie>& ties, Graph& graph) {
  const auto node_of = [&](int clip, ClipTime t) {
    int found = -1;
    for (int i = 0; i < static_cast<int>(graph.nodes.size()); ++i) {
      if (graph.nodes[at(i)].clip == clip && (found < 0 || to_seconds(t) >= graph.nodes[at(i)].from)) found = i;
    }
    return found;
  };
  for (const Tie& tie : ties) {
    Edge edge{node_of(tie.clip_a, tie.at_a), node_of(tie.clip_b, tie.at_b), -1, 0.01, 0, 0, 0, 1e6, {}};
    if (edge.a < 0 || edge.b < 0 || edge.a == edge.b) continue;
    edge.observations.push_back({to_seconds(tie.at_a), to_seconds(tie.at_b) - to_seconds(tie.at_a), 1});
    graph.edges.push_back(std::move(edge));
  }
}

std::optional<Error> check(const std::vector<ClipInput>& clips, int cameras) {
  for (const ClipInput& clip : clips) {
    if (clip.camera < 0 || clip.camera >= cameras) {
      return Error{Code::internal, "A clip names a camera that does not exist."};
    }
  }
  return std::nullopt;
}

}  // namespace

Result<LineUp> line_up(const std::vector<ClipInput>& given, int cameras, const std::vector<Tie>& ties,
                       const Watch& watch) {
  if (const auto wrong = check(given, cameras)) return *wrong;
  std::vector<ClipInput> clips = given;
  const Ears ears{clips};
  Findings findings;
  findings.matches = compare(ears, clips, watch);
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The line-up was cancelled."};
  if (const auto failure = ears.failure()) return failure->during("lining up the clips");
  for (PairMatch& match : findings.matches) {
    if (ears.hearing(match.a).there() && ears.hearing(match.b).there()) continue;
    match.segments.clear();
    match.rivals.clear();
    match.doubted.clear();
    match.with_blows.clear();
  }
  believe_agreed(clips, findings.matches);
  std::vector<Node> nodes;
  for (std::size_t i = 0; i < clips.size(); ++i) {
    nodes.push_back({static_cast<int>(i), clips[i].camera, 0, to_seconds(clips[i].length)});
    findings.silent.push_back(ears.silent(static_cast<int>(i)));
  }
  findings.reference = reference_of(clips, cameras, findings.matches);
  KnownSlopes slopes;
  const auto solve_with = [&](const Splits& splits, const std::vector<PairMatch>& matches) {
    Trial trial;
    trial.graph = build_graph(nodes, splits, matches, &slopes);
    add_ties(ties, trial.graph);
    trial.solved = solve(trial.graph, {cameras, findings.reference});
    return trial;
  };
  const auto splits_of = [&](const std::vector<PairMatch>& matches) {
    Splits splits = find_splits(matches, static_cast<int>(clips.size()));
    move_to_joins(clips, splits);
    return splits;
  };
  // What a pair that is wrong says of losses is wrong, too.
  Cleared cleared = without_clashes(
      clips, findings.matches,
      [&](const std::vector<PairMatch>& matches) { return solve_with(splits_of(matches), matches); }, watch.stop);
  findings.matches = std::move(cleared.matches);
  findings.refused = std::move(cleared.refused);
  findings.splits = splits_of(findings.matches);
  Trial now = std::move(cleared.trial);
  const SolveWith solve_splits = [&](const Splits& splits) { return solve_with(splits, findings.matches); };
  // A loss that no pair heard is believed only where no camera then films two clips at once.
  const auto no_clash = [&](const Trial& trial) {
    return cleared.in_question || refuse_clashes(clips, findings.matches, trial).empty();
  };
  if (Splits supposed = findings.splits; suppose_at_joins(clips, findings.matches, supposed)) {
    Trial trial = solve_splits(supposed);
    if (leaves_out_no_more(trial, now) && no_clash(trial)) {
      findings.splits = std::move(supposed);
      now = std::move(trial);
    }
  }
  const Splits heard = findings.splits;
  const Trial without = now;
  int more = 0;
  for (; more < most_unheard && !watch.stop.stop_requested(); ++more) {
    if (!add_unheard(now, solve_splits, findings.splits)) break;
    now = solve_splits(findings.splits);
  }
  if (more > 0 && !no_clash(now)) {
    findings.splits = heard;
    now = without;
  }
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The line-up was cancelled."};
  findings.holds = find_holds(clips, findings.splits, now);
  findings.graph = std::move(now.graph);
  findings.solved = std::move(now.solved);
  findings.partings = find_partings(findings.matches, findings.splits, findings.graph, findings.solved);
  return assemble(clips, cameras, findings);
}

}  // namespace jigtime::sync
