#include "sync/clock_talk.h"

#include <algorithm>
#include <cmath>

#include "sync/at.h"
#include "sync/clocks.h"
#include "sync/follow_on.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

// Seconds.
constexpr double alike = 2;  // between two words about the same clocks
/// Between two clocks that were set by the same time. Those of another day that show the time of this
/// one put a song so near to where it was heard one time in some fifty; own simulation, within a minute: 1 pair of 200.
constexpr double set_alike = 5;
constexpr double same_programme = 240;  // what a radio plays each hour, news or advertisements, is shorter
constexpr double few_hours = 6 * 3600;
constexpr double same_day = 12 * 3600;
constexpr double surely_apart = 5;
constexpr int fewest_against = 2;         // pairs
constexpr std::size_t most_settings = 3;  // of two cameras' clocks in one session

}  // namespace

ClockTalk::ClockTalk(const std::vector<ClipInput>& clips, const std::vector<PairMatch>& matches)
    : clips_{clips}, matches_{matches}, stamps_{good_stamps(clips)} {
  for (const ClipInput& clip : clips) cameras_ = std::max(cameras_, clip.camera + 1);
  proven_ = words(&PairMatch::segments);
  for (int x = 0; x < cameras_; ++x) {
    for (int y = x + 1; y < cameras_; ++y) settings_[{x, y}] = known(x, y, {});
  }
}

ClockTalk::Cameras ClockTalk::cameras_of(const PairMatch& match) const {
  const int of_a = clips_[at(match.a)].camera, of_b = clips_[at(match.b)].camera;
  return {std::min(of_a, of_b), std::max(of_a, of_b)};
}

std::optional<ClockTalk::Word> ClockTalk::word_of(int match, const std::vector<Segment>& segments) const {
  const PairMatch& pair = matches_[at(match)];
  const ClockHint *of_a = stamps_[at(pair.a)], *of_b = stamps_[at(pair.b)];
  if (segments.empty() || of_a == nullptr || of_b == nullptr) return std::nullopt;
  // Before anything was lost.
  const Segment& first = segments.front();
  const double between = to_seconds(of_b->clip_zero - of_a->clip_zero) + first.fit.line(first.from);
  const bool in_order = clips_[at(pair.a)].camera < clips_[at(pair.b)].camera;
  const double lesser_zero = to_seconds((in_order ? of_a : of_b)->clip_zero.time_since_epoch());
  return Word{match,
              pair.a,
              pair.b,
              in_order ? between : -between,
              lesser_zero + first.from + (in_order ? 0 : first.fit.line(first.from)),
              length_of(segments),
              !of_factory(of_a->clip_zero) && !of_factory(of_b->clip_zero)};
}

ClockTalk::Words ClockTalk::words(std::vector<Segment> PairMatch::*segments) const {
  Words found;
  for (int m = 0; m < static_cast<int>(matches_.size()); ++m) {
    if (const auto word = word_of(m, matches_[at(m)].*segments)) found[cameras_of(matches_[at(m)])].push_back(*word);
  }
  for (auto& [cameras, all] : found) std::ranges::sort(all, {}, &Word::ahead);
  return found;
}

/// Words in order, parted where the next one says something else than the first.
std::vector<std::vector<ClockTalk::Word>> ClockTalk::groups_of(const std::vector<Word>& words) {
  std::vector<std::vector<Word>> groups;
  for (const Word& word : words) {
    if (groups.empty() || word.ahead - groups.back().front().ahead > alike) groups.emplace_back();
    groups.back().push_back(word);
  }
  return groups;
}

std::vector<ClockTalk::Setting> ClockTalk::proven(int x, int y, const Asked& asked) const {
  std::vector<Setting> settings;
  const auto found = proven_.find(std::minmax(x, y));
  if (found == proven_.end()) return settings;
  std::vector<Word> words = found->second;
  std::erase_if(words, [&](const Word& word) {
    const bool shares = word.a == asked.a || word.a == asked.b || word.b == asked.a || word.b == asked.b;
    return word.match == asked.match || (shares && !asked.sharing);
  });
  std::size_t most = 0;
  const auto groups = groups_of(words);
  for (const auto& group : groups) most = std::max(most, group.size());
  for (const auto& group : groups) {
    // What far fewer say than say something else may be wrong itself.
    if (2 * group.size() < most) continue;
    const double ahead = group[group.size() / 2].ahead;
    settings.push_back({x < y ? ahead : -ahead, static_cast<int>(group.size())});
  }
  // Stamps that say something else each time tell nothing.
  if (settings.size() > most_settings) settings.clear();
  return settings;
}

std::vector<ClockTalk::Setting> ClockTalk::known_by(int x, int y, const Asked& asked) const {
  std::vector<Setting> settings = proven(x, y, asked);
  for (int by = 0; by < cameras_; ++by) {
    if (by == x || by == y) continue;
    const std::vector<Setting> onward = proven(by, y, asked);
    for (const Setting& one : proven(x, by, asked)) {
      for (const Setting& other : onward) {
        settings.push_back({one.ahead + other.ahead, std::min(one.pairs, other.pairs)});
      }
    }
  }
  return settings;
}

std::vector<ClockTalk::Setting> ClockTalk::known(int x, int y, const Asked& asked) const {
  std::vector<Setting> settings = known_by(x, y, asked);
  if (settings.empty() && asked.match >= 0) settings = known_by(x, y, {asked.match, asked.a, asked.b, true});
  return settings;
}

ClockTalk::Opinion ClockTalk::of(int match) const {
  const auto word = word_of(match, matches_[at(match)].segments);
  if (!word) return {};
  const auto [x, y] = cameras_of(matches_[at(match)]);
  int same = 0, otherwise = 0, another_day = 0;
  bool perhaps = false;
  for (const Setting& one : known(x, y, {match, word->a, word->b})) {
    const double off = std::abs(one.ahead - word->ahead);
    if (off <= alike) {
      same = std::max(same, one.pairs);
    } else if (off > same_day && off < same_season && word->real) {
      another_day = std::max(another_day, one.pairs);
    } else if (off > surely_apart && off <= same_day && !other_zones(off)) {
      otherwise = std::max(otherwise, one.pairs);
    } else {
      perhaps = true;
    }
  }
  if (same > 0) return {Says::the_same, same};
  if (perhaps) return {};
  if (otherwise > 0) return {Says::otherwise, otherwise};
  return another_day > 0 ? Opinion{Says::another_day, another_day} : Opinion{};
}

std::optional<double> ClockTalk::expected_lag(int a, int b) const {
  const ClockHint *of_a = stamps_[at(a)], *of_b = stamps_[at(b)];
  if (of_a == nullptr || of_b == nullptr) return std::nullopt;
  const double between = to_seconds(of_b->clip_zero - of_a->clip_zero);
  const int x = clips_[at(a)].camera, y = clips_[at(b)].camera;
  const auto settings = settings_.find(std::minmax(x, y));
  if (settings == settings_.end()) return std::nullopt;
  std::optional<double> expected;
  for (const Setting& one : settings->second) {
    const double lag = (x < y ? one.ahead : -one.ahead) - between;
    const double shared = std::min(to_seconds(clips_[at(a)].length), to_seconds(clips_[at(b)].length) - lag);
    if (shared - std::max(0.0, -lag) <= 2 * alike) continue;
    if (expected && std::abs(*expected - lag) > alike) return std::nullopt;
    if (!expected) expected = lag;
  }
  return expected;
}

bool ClockTalk::plausible(const std::vector<Word>& group) {
  const double ahead = group[group.size() / 2].ahead;
  if (!std::ranges::all_of(group, &Word::real) || std::abs(ahead) > most_zones) return false;
  if (std::abs(ahead) <= set_alike) return true;
  const auto [first, last] = std::ranges::minmax(group, {}, &Word::when);
  double heard = 0;
  for (const Word& word : group) heard += word.heard;
  if (other_zones(ahead) && heard >= same_programme) return true;
  return std::abs(ahead) <= few_hours && last.when - first.when >= longest_song;
}

std::vector<int> ClockTalk::borne_out() const {
  std::vector<int> found;
  for (const auto& [cameras, doubted] : words(&PairMatch::doubted)) {
    if (!settings_.at(cameras).empty()) {
      for (const Word& word : doubted) {
        const auto same = [&](const Setting& one) { return std::abs(one.ahead - word.ahead) <= alike; };
        const auto settings = known(cameras.first, cameras.second, {word.match, word.a, word.b});
        if (std::ranges::any_of(settings, same)) found.push_back(word.match);
      }
      continue;
    }
    auto groups = groups_of(doubted);
    std::ranges::stable_sort(groups, std::ranges::greater{}, [](const auto& group) { return group.size(); });
    // Clocks that are apart by two amounts at once tell nothing, unless more say the one.
    if (groups.size() > 1 && groups[0].size() == groups[1].size()) continue;
    if (!plausible(groups.front())) continue;
    for (const Word& word : groups.front()) found.push_back(word.match);
  }
  return found;
}

void ask_cameras(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches) {
  std::vector<int> ties(clips.size(), 0);
  for (const PairMatch& match : matches) {
    if (match.segments.empty()) continue;
    ++ties[at(match.a)];
    ++ties[at(match.b)];
  }
  const auto swap = [&](int match) {
    PairMatch& pair = matches[at(match)];
    std::swap(pair.segments, pair.doubted);
    pair.against_clocks = false;
    pair.overlap = length_of(pair.segments);
  };
  const ClockTalk heard{clips, matches};
  std::vector<int> otherwise, of_another_day;
  for (int m = 0; m < static_cast<int>(matches.size()); ++m) {
    const auto [says, pairs] = heard.of(m);
    if (pairs < fewest_against) continue;
    const bool a_alone = ties[at(matches[at(m)].a)] == 1, b_alone = ties[at(matches[at(m)].b)] == 1;
    if (says == ClockTalk::Says::otherwise && a_alone && b_alone) otherwise.push_back(m);
    if (says == ClockTalk::Says::another_day && (a_alone || b_alone)) of_another_day.push_back(m);
  }
  std::ranges::for_each(of_another_day, swap);
  for (const int m : otherwise) {
    swap(m);
    matches[at(m)].against_clocks = true;
  }
  for (bool more = true; more;) {
    std::vector<int> borne_out = ClockTalk{clips, matches}.borne_out();
    if (borne_out.empty()) borne_out = following_on(clips, matches);
    std::ranges::for_each(borne_out, swap);
    more = !borne_out.empty();
  }
}

}  // namespace jigtime::sync
