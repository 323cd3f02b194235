#include <map>

#include "sync/at.h"
#include "sync/compare.h"
#include "sync/parallel.h"

namespace jigtime::sync {

namespace {

constexpr int blocks_at_once = 12;
constexpr int votes_kept = 6;  // of each block
constexpr int candidates_kept = 6;

struct ClipBlock {
  int clip = 0;
  int index = 0;  ///< of the clip's blocks
  Block block;
};

using Votes = std::vector<std::vector<Vote>>;  // by block

class CoarseSearch {
 public:
  CoarseSearch(const Ears& ears, const std::vector<int>& wanted, const std::vector<Prospect>& prospects)
      : ears_{ears}, votes_(prospects.size()) {
    std::map<int, std::vector<Block>> blocks;
    for (const int p : wanted) {
      const Prospect& prospect = prospects[at(p)];
      sought_[prospect.b][prospect.a] = p;
      auto [own, added] = blocks.try_emplace(prospect.a);
      if (added) own->second = blocks_of(*ears.hearable(prospect.a).frames);
      votes_[at(p)].resize(own->second.size());
    }
    for (const auto& [clip, own] : blocks) {
      for (std::size_t i = 0; i < own.size(); ++i) blocks_.push_back({clip, static_cast<int>(i), own[i]});
    }
  }

  int groups() const { return (static_cast<int>(blocks_.size()) + blocks_at_once - 1) / blocks_at_once; }

  /// Each group writes votes of its own blocks only.
  void search(BlockSearch& search, int group, const std::stop_token& stop) {
    const std::size_t first = at(group * blocks_at_once);
    const std::size_t last = std::min(blocks_.size(), first + blocks_at_once);
    std::vector<PreparedBlock> prepared;
    for (std::size_t i = first; i < last; ++i) {
      prepared.push_back(search.prepare(*ears_.hearable(blocks_[i].clip).frames, blocks_[i].block));
    }
    for (const auto& [b, by_a] : sought_) {
      if (stop.stop_requested()) return;
      std::vector<const PreparedBlock*> looked_for;
      std::vector<std::vector<Vote>*> to;
      for (std::size_t i = first; i < last; ++i) {
        const auto pair = by_a.find(blocks_[i].clip);
        if (pair == by_a.end()) continue;
        looked_for.push_back(&prepared[i - first]);
        to.push_back(&votes_[at(pair->second)][at(blocks_[i].index)]);
      }
      if (looked_for.empty()) continue;
      auto found = search.search(looked_for, *ears_.hearable(b).frames, votes_kept);
      for (std::size_t i = 0; i < to.size(); ++i) *to[i] = std::move(found[i]);
    }
  }

  Votes take(int prospect) { return std::move(votes_[at(prospect)]); }

 private:
  const Ears& ears_;
  std::vector<ClipBlock> blocks_;
  std::map<int, std::map<int, int>> sought_;  // clip b, then clip a: the prospect
  std::vector<Votes> votes_;
};

}  // namespace

void find_candidates(const Ears& ears, const std::vector<int>& wanted, const Watch& watch,
                     std::vector<Prospect>& prospects) {
  CoarseSearch coarse{ears, wanted, prospects};
  in_parallel<BlockSearch>(watch.threads, coarse.groups(), watch.stop,
                           [&](BlockSearch& search, int group) { coarse.search(search, group, watch.stop); });
  if (watch.stop.stop_requested()) return;
  struct None {};
  in_parallel<None>(watch.threads, static_cast<int>(wanted.size()), watch.stop, [&](None&, int i) {
    const int p = wanted[at(i)];
    prospects[at(p)].candidates = gather(coarse.take(p), candidates_kept);
  });
}

}  // namespace jigtime::sync
