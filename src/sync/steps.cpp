#include "sync/steps.h"

#include <algorithm>
#include <cmath>

namespace jigtime::sync {

namespace {

constexpr double same_time = 3;  // seconds: two pairs place one loss that far apart where both hear much
constexpr double same_length = 0.05;
constexpr double surely_same_length = 0.01;

/// What one pair says of a loss, and between which seconds of the loser it heard anything.
struct Word {
  Split split;
  const PairMatch* match = nullptr;
  double heard_from = 0;
  double heard_to = 0;
};

void add_jumps(const PairMatch& match, std::vector<std::vector<Word>>& words) {
  if (match.segments.empty()) return;
  const auto on_a = [](const Segment&, double t) { return t; };
  const auto on_b = [](const Segment& segment, double t) { return t + segment.fit.line(t); };
  for (std::size_t i = 0; i + 1 < match.segments.size(); ++i) {
    const Segment& before = match.segments[i];
    const Segment& after = match.segments[i + 1];
    const double at = (before.to + after.from) / 2;
    const double jump = after.fit.line(at) - before.fit.line(at);
    const double earliest = before.observations.back().at, latest = after.observations.front().at;
    // In the loser's clip time the jump lies where the first line ends and the second begins.
    const auto add = [&](int loser, const auto& time) {
      words[static_cast<std::size_t>(loser)].push_back(
          {{(time(before, before.to) + time(after, after.from)) / 2, std::abs(jump), 1, time(before, earliest),
            time(after, latest)},
           &match,
           time(match.segments.front(), match.segments.front().from),
           time(match.segments.back(), match.segments.back().to)});
    };
    if (jump > 0) {
      add(match.a, on_a);
    } else {
      add(match.b, on_b);
    }
  }
}

/// Two pairs that tell of one loss: of the same length, and near each other or each where the other heard nothing.
bool same_loss(const Split& a, const Split& b) {
  if (std::abs(a.seconds - b.seconds) >= same_length) return false;
  return std::abs(a.at - b.at) < same_time || std::max(a.earliest, b.earliest) < std::min(a.latest, b.latest);
}

/// Two pairs that place one loss where the other heard none: a single window of one seemed to lie beyond it.
bool displaced(const Word& a, const Word& b, const std::vector<Word>& all) {
  if (a.match == b.match || std::abs(a.split.seconds - b.split.seconds) >= surely_same_length) return false;
  const auto tells = [&](const PairMatch* match, const Split& split) {
    return std::any_of(all.begin(), all.end(),
                       [&](const Word& word) { return word.match == match && same_loss(word.split, split); });
  };
  const auto heard = [](const Word& word, double t) { return t > word.heard_from && t < word.heard_to; };
  return heard(a, b.split.at) && heard(b, a.split.at) && !tells(a.match, b.split) && !tells(b.match, a.split);
}

/// Several losses that one pair tells apart, of which the other heard only the sum.
bool told_apart(const Word& sum, const PairMatch* other, const std::vector<Word>& all) {
  if (other == sum.match) return false;
  double seconds = 0;
  int parts = 0;
  for (const Word& word : all) {
    const Split& split = word.split;
    if (word.match != other || split.latest < sum.split.earliest || split.earliest > sum.split.latest) continue;
    seconds += split.seconds;
    ++parts;
  }
  return parts > 1 && std::abs(seconds - sum.split.seconds) < same_length;
}

void drop_sums(std::vector<Word>& words) {
  const std::vector<Word> all = words;
  std::erase_if(words, [&](const Word& word) {
    return std::any_of(all.begin(), all.end(), [&](const Word& other) { return told_apart(word, other.match, all); });
  });
}

/// Of two such places the one that was narrowed less.
std::vector<Split> agreed(std::vector<Word> words) {
  drop_sums(words);
  const auto room = [](const Word& word) { return word.split.latest - word.split.earliest; };
  for (std::size_t i = 0; i < words.size(); ++i) {
    for (std::size_t k = i + 1; k < words.size(); ++k) {
      if (!displaced(words[i], words[k], words)) continue;
      const std::size_t wider = room(words[i]) > room(words[k]) ? i : k;
      words[i].split = words[k].split = words[wider].split;
    }
  }
  std::vector<Split> splits;
  for (const Word& word : words) splits.push_back(word.split);
  return splits;
}

std::vector<Split> merged(std::vector<Split> splits) {
  std::sort(splits.begin(), splits.end(), [](const Split& a, const Split& b) { return a.at < b.at; });
  std::vector<Split> kept;
  for (const Split& split : splits) {
    Split* const last = kept.empty() ? nullptr : &kept.back();
    if (last != nullptr && same_loss(*last, split)) {
      const int pairs = last->pairs + 1;
      last->at += (split.at - last->at) / pairs;
      last->seconds += (split.seconds - last->seconds) / pairs;
      last->pairs = pairs;
      last->earliest = std::max(last->earliest, split.earliest);
      last->latest = std::min(last->latest, split.latest);
      if (last->earliest < last->latest) last->at = std::clamp(last->at, last->earliest, last->latest);
    } else {
      kept.push_back(split);
    }
  }
  return kept;
}

}  // namespace

std::vector<std::vector<Split>> find_splits(const std::vector<PairMatch>& matches, int clips) {
  std::vector<std::vector<Word>> words(static_cast<std::size_t>(clips));
  for (const PairMatch& match : matches) add_jumps(match, words);
  std::vector<std::vector<Split>> splits;
  for (auto& of_clip : words) splits.push_back(merged(agreed(std::move(of_clip))));
  return splits;
}

}  // namespace jigtime::sync
