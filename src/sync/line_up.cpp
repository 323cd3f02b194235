#include "sync/line_up.h"

#include <algorithm>
#include <mutex>

#include "sync/assemble.h"
#include "sync/parallel.h"

namespace jigtime::sync {

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Counts done work and tells; calls come one at a time and never step back.
class Progress {
 public:
  Progress(const Watch& watch, int all) : watch_{watch}, all_{std::max(1, all)} {}
  void step() {
    const std::scoped_lock lock{guard_};
    ++done_;
    if (watch_.progress) watch_.progress(std::min(1.0, static_cast<double>(done_) / all_));
  }

 private:
  const Watch& watch_;
  int all_;
  int done_ = 0;
  std::mutex guard_;
};

struct Ears {
  std::vector<Frames> frames;
  std::vector<std::unique_ptr<Hearing>> hearings;
  std::vector<Hearable> hearables;
};

Ears open_ears(const std::vector<ClipInput>& clips) {
  Ears ears;
  ears.frames.resize(clips.size());
  ears.hearables.resize(clips.size());
  for (std::size_t i = 0; i < clips.size(); ++i) {
    const bool heard = clips[i].features != nullptr && clips[i].sound != nullptr;
    if (heard) ears.frames[i] = Frames{*clips[i].features};
    ears.hearings.push_back(std::make_unique<Hearing>(heard ? clips[i].sound : nullptr));
    if (!heard) continue;
    Hearable& hearable = ears.hearables[i];
    hearable = {&ears.frames[i], ears.hearings[i].get(), ears.hearings[i]->origin(), ears.hearings[i]->end()};
    for (const ClipTime join : clips[i].joins) hearable.joins.push_back(to_seconds(join));
  }
  return ears;
}

/// Pairs of clips of different cameras that both can be heard, the shorter one first.
std::vector<PairMatch> pairs_of(const std::vector<ClipInput>& clips, const Ears& ears) {
  std::vector<PairMatch> pairs;
  for (int i = 0; i < static_cast<int>(clips.size()); ++i) {
    for (int j = i + 1; j < static_cast<int>(clips.size()); ++j) {
      if (clips[at(i)].camera == clips[at(j)].camera) continue;
      const Frames& first = ears.frames[at(i)];
      const Frames& second = ears.frames[at(j)];
      if (first.silent() || second.silent()) continue;
      PairMatch pair;
      pair.a = first.count() <= second.count() ? i : j;
      pair.b = pair.a == i ? j : i;
      pairs.push_back(std::move(pair));
    }
  }
  return pairs;
}

void match_pairs(const Ears& ears, const Watch& watch, Progress& progress, std::vector<PairMatch>& pairs) {
  in_parallel<PairMatcher>(watch.threads, static_cast<int>(pairs.size()), watch.stop, [&](PairMatcher& matcher, int i) {
    PairMatch& pair = pairs[at(i)];
    const int a = pair.a, b = pair.b;
    pair = matcher.match(ears.hearables[at(a)], ears.hearables[at(b)], nullptr, watch.stop);
    pair.a = a;
    pair.b = b;
    progress.step();
  });
}

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
    Edge edge{node_of(tie.clip_a, tie.at_a), node_of(tie.clip_b, tie.at_b), -1, 0.01, 0, 0, 1e6, {}};
    if (edge.a < 0 || edge.b < 0 || edge.a == edge.b) continue;
    edge.observations.push_back({to_seconds(tie.at_a), to_seconds(tie.at_b) - to_seconds(tie.at_a), 1});
    graph.edges.push_back(std::move(edge));
  }
}

std::optional<Error> unreadable(const Ears& ears) {
  std::optional<Error> first;
  bool any = false;
  for (const auto& hearing : ears.hearings) {
    const auto failure = hearing->failure();
    any |= hearing->there();
    if (failure && !first) first = failure;
  }
  return any ? std::nullopt : first;
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

Result<LineUp> line_up(const std::vector<ClipInput>& clips, int cameras, const std::vector<Tie>& ties,
                       const Watch& watch) {
  if (const auto wrong = check(clips, cameras)) return *wrong;
  const Ears ears = open_ears(clips);
  Findings findings;
  findings.matches = pairs_of(clips, ears);
  Progress progress{watch, static_cast<int>(findings.matches.size())};
  match_pairs(ears, watch, progress, findings.matches);
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The line-up was cancelled."};
  if (const auto failure = unreadable(ears)) return failure->during("lining up the clips");
  for (PairMatch& match : findings.matches) {
    if (ears.hearings[at(match.a)]->there() && ears.hearings[at(match.b)]->there()) continue;
    match.segments.clear();
    match.rivals.clear();
  }
  findings.splits = find_splits(findings.matches, static_cast<int>(clips.size()));
  std::vector<Node> nodes;
  for (std::size_t i = 0; i < clips.size(); ++i) {
    nodes.push_back({static_cast<int>(i), clips[i].camera, 0, to_seconds(clips[i].length)});
    findings.silent.push_back(ears.frames[i].silent());
  }
  findings.graph = build_graph(nodes, findings.splits, findings.matches);
  add_ties(ties, findings.graph);
  findings.reference = reference_of(clips, cameras, findings.matches);
  findings.solved = solve(findings.graph, {cameras, findings.reference});
  return assemble(clips, cameras, findings);
}

}  // namespace jigtime::sync
