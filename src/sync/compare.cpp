#include "sync/compare.h"

#include <algorithm>
#include <mutex>

#include "sync/pair_memory.h"
#include "sync/parallel.h"

namespace jigtime::sync {

namespace {

constexpr double coarse_share = 0.3;  // of the work, for the progress

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Tells how far things are; calls come one at a time and never step back.
class Progress {
 public:
  explicit Progress(const Watch& watch) : watch_{watch} {}
  void tell(double fraction) {
    const std::scoped_lock lock{guard_};
    if (!watch_.progress || fraction <= told_) return;
    told_ = std::min(1.0, fraction);
    watch_.progress(told_);
  }

 private:
  const Watch& watch_;
  double told_ = 0;
  std::mutex guard_;
};

/// Pairs of clips of different cameras that both can be heard, the shorter one first.
std::vector<Prospect> pairs_of(const Ears& ears, const std::vector<ClipInput>& clips) {
  std::vector<Prospect> pairs;
  for (int i = 0; i < static_cast<int>(clips.size()); ++i) {
    for (int j = i + 1; j < static_cast<int>(clips.size()); ++j) {
      if (clips[at(i)].camera == clips[at(j)].camera || ears.silent(i) || ears.silent(j)) continue;
      const bool in_order = ears.seconds(i) <= ears.seconds(j);
      pairs.push_back({in_order ? i : j, in_order ? j : i, {}});
    }
  }
  return pairs;
}

/// What is remembered of pairs, and what of it has changed.
class Memory {
 public:
  Memory(PairMemory* kept, std::size_t pairs) : kept_{kept}, facts_(pairs) {}

  void recall(std::size_t pair, Prospect& prospect) {
    if (kept_ == nullptr) return;
    const auto bytes = kept_->recall(prospect.a, prospect.b);
    if (!bytes) return;
    facts_[pair] = unpacked(*bytes);
    if (facts_[pair]) prospect.candidates = facts_[pair]->candidates;
  }
  bool knows(std::size_t pair) const { return facts_[pair].has_value(); }
  /// The match, if it rests on just these candidates.
  const PairMatch* match(std::size_t pair, const std::vector<int>& candidates) const {
    const auto& facts = facts_[pair];
    return facts && facts->match && facts->compared == candidates ? &*facts->match : nullptr;
  }
  void keep(const Prospect& prospect, const std::vector<int>& candidates, const PairMatch* match) const {
    if (kept_ == nullptr) return;
    PairFacts facts{prospect.candidates, candidates, std::nullopt};
    if (match != nullptr) facts.match = *match;
    kept_->keep(prospect.a, prospect.b, packed(facts));
  }

 private:
  PairMemory* kept_;
  std::vector<std::optional<PairFacts>> facts_;
};

class Comparison {
 public:
  Comparison(const Ears& ears, const std::vector<ClipInput>& clips, const Watch& watch)
      : ears_{ears},
        watch_{watch},
        progress_{watch},
        prospects_{pairs_of(ears, clips)},
        memory_{watch.memory, prospects_.size()} {
    for (std::size_t i = 0; i < clips.size(); ++i) seconds_.push_back(ears.seconds(static_cast<int>(i)));
  }

  std::vector<PairMatch> run() {
    std::vector<PairMatch> matches(prospects_.size());
    std::vector<int> unknown;
    for (std::size_t i = 0; i < prospects_.size(); ++i) {
      memory_.recall(i, prospects_[i]);
      if (!memory_.knows(i)) unknown.push_back(static_cast<int>(i));
      matches[i].a = prospects_[i].a;
      matches[i].b = prospects_[i].b;
    }
    find_candidates(ears_, unknown, watch_, prospects_);
    progress_.tell(coarse_share);
    if (watch_.stop.stop_requested()) return matches;
    for (const int i : unknown) memory_.keep(prospects_[at(i)], {}, nullptr);
    Schedule schedule{seconds_, prospects_};
    int done = 0;
    for (auto jobs = schedule.next(); !jobs.empty(); jobs = schedule.next()) {
      in_parallel<PairMatcher>(watch_.threads, static_cast<int>(jobs.size()), watch_.stop,
                               [&](PairMatcher& matcher, int i) { work(matcher, jobs[at(i)], matches); });
      if (watch_.stop.stop_requested()) return matches;
      for (const Job& job : jobs) schedule.learn(matches[at(job.prospect)]);
      done += static_cast<int>(jobs.size());
      progress_.tell(coarse_share + (1 - coarse_share) * done / std::max(1, done + schedule.waiting()));
    }
    return matches;
  }

 private:
  void work(PairMatcher& matcher, const Job& job, std::vector<PairMatch>& matches) {
    const Prospect& prospect = prospects_[at(job.prospect)];
    PairMatch& match = matches[at(job.prospect)];
    if (const PairMatch* known = memory_.match(at(job.prospect), job.candidates)) {
      match = *known;
    } else {
      std::vector<Candidate> candidates;
      for (const int i : job.candidates) candidates.push_back(prospect.candidates[at(i)]);
      match = matcher.match(ears_.hearable(prospect.a), ears_.hearable(prospect.b), candidates, watch_.stop);
      const bool read = ears_.hearing(prospect.a).there() && ears_.hearing(prospect.b).there();
      if (read && !watch_.stop.stop_requested()) {
        const std::scoped_lock lock{keeping_};
        memory_.keep(prospect, job.candidates, &match);
      }
    }
    match.a = prospect.a;
    match.b = prospect.b;
  }

  const Ears& ears_;
  const Watch& watch_;
  Progress progress_;
  std::vector<double> seconds_;
  std::vector<Prospect> prospects_;
  Memory memory_;
  std::mutex keeping_;
};

}  // namespace

std::vector<PairMatch> compare(const Ears& ears, const std::vector<ClipInput>& clips, const Watch& watch) {
  return Comparison{ears, clips, watch}.run();
}

}  // namespace jigtime::sync
