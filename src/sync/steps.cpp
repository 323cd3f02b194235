#include "sync/steps.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double same_time = 3;  // seconds: two pairs place one loss that far apart where both hear much
constexpr double same_length = 0.05;
constexpr double surely_same_length = 0.01;
constexpr double surely_same_share = 0.03;  // of a long loss: sounds from all over a shop tell it no closer

/// What one pair says of a loss, and between which seconds of the loser it heard anything.
struct Word {
  Split split;
  const PairMatch* match = nullptr;
  double heard_from = 0;
  double heard_to = 0;
  int other = 0;  ///< the clip that lost nothing, or less
  double other_earliest = 0;
  double other_latest = 0;
};
using Words = std::vector<std::vector<Word>>;  // by the clip that lost

void add_jumps(const PairMatch& match, Words& words) {
  if (match.segments.empty()) return;
  const auto on_a = [](const Segment&, double t) { return t; };
  const auto on_b = [](const Segment& segment, double t) { return t + segment.fit.line(t); };
  for (std::size_t i = 0; i + 1 < match.segments.size(); ++i) {
    const Segment& before = match.segments[i];
    const Segment& after = match.segments[i + 1];
    const double jump = step_between(before, after);
    const double earliest = before.observations.back().at, latest = after.observations.front().at;
    // In the loser's clip time the jump lies where the first line ends and the second begins.
    const auto add = [&](int loser, const auto& time, int other, const auto& other_time) {
      words[static_cast<std::size_t>(loser)].push_back(
          {{(time(before, before.to) + time(after, after.from)) / 2, std::abs(jump), 1, time(before, earliest),
            time(after, latest), after.loose, std::min(two_blows, 2 * std::max(before.doubt, after.doubt))},
           &match,
           time(match.segments.front(), match.segments.front().from),
           time(match.segments.back(), match.segments.back().to),
           other,
           other_time(before, earliest),
           other_time(after, latest)});
    };
    if (jump > 0) {
      add(match.a, on_a, match.b, on_b);
    } else {
      add(match.b, on_b, match.a, on_a);
    }
  }
}

/// Two pairs that tell of one loss: of the same length, and near each other or each where the other heard nothing.
bool same_loss(const Split& a, const Split& b) {
  const double same = std::max(same_length, std::max(a.unsure, b.unsure) + surely_same_length);
  if (std::abs(a.seconds - b.seconds) >= same) return false;
  return std::abs(a.at - b.at) < same_time || std::max(a.earliest, b.earliest) < std::min(a.latest, b.latest);
}

/// Two pairs that place one loss where the other heard none: a single window of one seemed to lie beyond it.
bool displaced(const Word& a, const Word& b, const std::vector<Word>& all) {
  const double longer = std::max(a.split.seconds, b.split.seconds);
  const double same = std::clamp(surely_same_share * longer, surely_same_length, same_length);
  if (a.match == b.match || std::abs(a.split.seconds - b.split.seconds) >= same) return false;
  const auto tells = [&](const PairMatch* match, const Split& split) {
    return std::any_of(all.begin(), all.end(),
                       [&](const Word& word) { return word.match == match && same_loss(word.split, split); });
  };
  const auto heard = [](const Word& word, double t) { return t > word.heard_from && t < word.heard_to; };
  return heard(a, b.split.at) && heard(b, a.split.at) && !tells(a.match, b.split) && !tells(b.match, a.split);
}

/// All that one pair tells of losses within a stretch.
struct Told {
  double seconds = 0;
  int losses = 0;
};

/// What each pair but `without` tells of losses within a stretch of one clip.
std::vector<Told> told_within(const std::vector<Word>& words, double from, double to, const PairMatch* without) {
  std::map<const PairMatch*, Told> by_match;
  for (const Word& word : words) {
    if (word.match == without || word.split.latest < from || word.split.earliest > to) continue;
    Told& told = by_match[word.match];
    told.seconds += word.split.seconds;
    ++told.losses;
  }
  std::vector<Told> all;
  for (const auto& [match, told] : by_match) all.push_back(told);
  return all;
}

/// Several losses, be it of both clips, of which this pair heard only the sum while other pairs tell them apart.
bool only_sum(const Word& word, const Words& words, std::size_t loser) {
  const auto lost = told_within(words[loser], word.split.earliest, word.split.latest, word.match);
  auto other_lost =
      told_within(words[static_cast<std::size_t>(word.other)], word.other_earliest, word.other_latest, word.match);
  other_lost.push_back({});
  for (const Told& one : lost) {
    for (const Told& other : other_lost) {
      const bool same = std::abs(one.seconds - other.seconds - word.split.seconds) < same_length;
      if (same && one.losses + other.losses > 1) return true;
    }
  }
  return false;
}

void drop_sums(Words& words) {
  const Words all = words;
  for (std::size_t clip = 0; clip < words.size(); ++clip) {
    std::erase_if(words[clip], [&](const Word& word) { return only_sum(word, all, clip); });
  }
}

/// The stretch in which a loss may lie is what both leave open, or all between two that exclude each other.
void narrow(Split& split, double other_from, double other_to) {
  double from = std::max(split.at - split.loose, other_from), to = std::min(split.at + split.loose, other_to);
  if (from > to) std::swap(from, to);
  split.loose = (to - from) / 2;
  split.at = from + split.loose;
}

/// A stretch that holds both places, where either tells no moment but a stretch itself.
Split about_both(Split split, const Split& other) {
  const double from = std::min(split.at - split.loose, other.at - other.loose);
  const double to = std::max(split.at + split.loose, other.at + other.loose);
  split.loose = (to - from) / 2;
  split.at = from + split.loose;
  split.earliest = std::min(split.earliest, other.earliest);
  split.latest = std::max(split.latest, other.latest);
  return split;
}

/// Of two such places the one that was narrowed less, or all about both.
std::vector<Split> agreed(std::vector<Word> words) {
  const auto room = [](const Word& word) { return word.split.latest - word.split.earliest; };
  for (std::size_t i = 0; i < words.size(); ++i) {
    for (std::size_t k = i + 1; k < words.size(); ++k) {
      if (!displaced(words[i], words[k], words)) continue;
      const bool first = room(words[i]) > room(words[k]);
      const Split& split = words[first ? i : k].split;
      const Split& other = words[first ? k : i].split;
      const bool stretch = split.loose > 0 || other.loose > 0;
      words[i].split = words[k].split = stretch ? about_both(split, other) : Split{split};
    }
  }
  std::vector<Split> splits;
  for (const Word& word : words) splits.push_back(word.split);
  return splits;
}

std::vector<Split> merged(std::vector<Split> splits) {
  std::sort(splits.begin(), splits.end(), [](const Split& a, const Split& b) { return a.at < b.at; });
  std::vector<Split> kept;
  int as_sure = 1;  // of those that tell the last one
  for (const Split& split : splits) {
    Split* const last = kept.empty() ? nullptr : &kept.back();
    if (last != nullptr && same_loss(*last, split)) {
      narrow(*last, split.at - split.loose, split.at + split.loose);
      if (split.unsure < last->unsure) {
        last->seconds = split.seconds;
        as_sure = 1;
      } else if (split.unsure == last->unsure) {
        last->seconds += (split.seconds - last->seconds) / ++as_sure;
      }
      last->unsure = std::min(last->unsure, split.unsure);
      ++last->pairs;
      last->earliest = std::max(last->earliest, split.earliest);
      last->latest = std::min(last->latest, split.latest);
      if (last->earliest < last->latest) last->at = std::clamp(last->at, last->earliest, last->latest);
    } else {
      kept.push_back(split);
      as_sure = 1;
    }
  }
  for (Split& split : kept) {
    if (split.earliest < split.latest) narrow(split, split.earliest, split.latest);
  }
  return kept;
}

}  // namespace

std::vector<std::vector<Split>> find_splits(const std::vector<PairMatch>& matches, int clips) {
  Words words(static_cast<std::size_t>(clips));
  for (const PairMatch& match : matches) add_jumps(match, words);
  drop_sums(words);
  std::vector<std::vector<Split>> splits;
  for (auto& of_clip : words) splits.push_back(merged(agreed(std::move(of_clip))));
  return splits;
}

}  // namespace jigtime::sync
