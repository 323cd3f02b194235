#include "sync/borne_out.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "sync/clocks.h"

namespace jigtime::sync {

namespace {

// Seconds.
constexpr double alike = 2;           // between two words about the same clocks
constexpr double set_alike = 60;      // between two clocks that were set by the same time
constexpr double same_minute = 30;    // the same, beside whole zones
constexpr double another_song = 480;  // from one moment to another: no song lasts as long
constexpr double same_day = 12 * 3600;
constexpr double surely_apart = 5;
constexpr int fewest_against = 2;  // pairs
constexpr auto factory_days = std::chrono::days{2};

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Cameras begin anew at the first of January of some year when their clock's cell is empty, and so two of them agree
/// (common experience, no source).
bool of_factory(WallTime time) {
  const auto day = std::chrono::floor<std::chrono::days>(time.time_since_epoch());
  const std::chrono::year_month_day date{std::chrono::sys_days{day}};
  const auto new_year = std::chrono::sys_days{date.year() / std::chrono::January / 1}.time_since_epoch();
  return day - new_year < factory_days;
}

/// What a pair says of two cameras' clocks.
struct Word {
  int match = 0;
  double ahead = 0;  ///< seconds by which the clock of the camera of greater number is, where sound puts the clips
  double when = 0;   ///< by a's clock, where the two begin to run together
  bool real = true;  ///< no clock may have begun at its factory date
};

/// Words that agree.
struct Setting {
  double ahead = 0;
  int pairs = 0;
};

class Clocks {
 public:
  Clocks(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches)
      : clips_{clips}, matches_{matches}, stamps_{good_stamps(clips)} {
    for (const ClipInput& clip : clips) cameras_ = std::max(cameras_, clip.camera + 1);
  }

  void run() {
    for (const int match : spoken_against()) std::swap(matches_[at(match)].segments, matches_[at(match)].doubted);
    for (bool more = true; more;) {
      more = false;
      for (int x = 0; x < cameras_; ++x) {
        for (int y = x + 1; y < cameras_; ++y) {
          for (const int match : borne_out(x, y)) {
            std::swap(matches_[at(match)].segments, matches_[at(match)].doubted);
            more = true;
          }
        }
      }
    }
    for (PairMatch& match : matches_) match.overlap = length_of(match.segments);
  }

 private:
  std::optional<Word> word_of(int match, const std::vector<Segment>& segments) const {
    const PairMatch& pair = matches_[at(match)];
    const ClockHint *of_a = stamps_[at(pair.a)], *of_b = stamps_[at(pair.b)];
    if (segments.empty() || of_a == nullptr || of_b == nullptr) return std::nullopt;
    // Before anything was lost.
    const Segment& first = segments.front();
    const double between = to_seconds(of_b->clip_zero - of_a->clip_zero) + first.fit.line(first.from);
    const bool in_order = clips_[at(pair.a)].camera < clips_[at(pair.b)].camera;
    return Word{match, in_order ? between : -between, to_seconds(of_a->clip_zero.time_since_epoch()) + first.from,
                !of_factory(of_a->clip_zero) && !of_factory(of_b->clip_zero)};
  }

  bool is_of(const PairMatch& match, int x, int y) const {
    const int of_a = clips_[at(match.a)].camera, of_b = clips_[at(match.b)].camera;
    return std::pair{std::min(of_a, of_b), std::max(of_a, of_b)} == std::pair{x, y};
  }

  /// What all pairs say of cameras x and y, x < y, by what is proven or doubted of them; ahead least first.
  std::vector<Word> words(int x, int y, std::vector<Segment> PairMatch::*segments, int without) const {
    std::vector<Word> found;
    for (int m = 0; m < static_cast<int>(matches_.size()); ++m) {
      if (m == without || !is_of(matches_[at(m)], x, y)) continue;
      if (const auto word = word_of(m, matches_[at(m)].*segments)) found.push_back(*word);
    }
    std::ranges::sort(found, {}, &Word::ahead);
    return found;
  }

  /// Words in order that differ from the one before by little.
  static std::vector<std::vector<Word>> groups_of(const std::vector<Word>& words) {
    std::vector<std::vector<Word>> groups;
    for (const Word& word : words) {
      if (groups.empty() || word.ahead - groups.back().back().ahead > alike) groups.emplace_back();
      groups.back().push_back(word);
    }
    return groups;
  }

  std::vector<Setting> proven(int x, int y, int without) const {
    std::vector<Setting> settings;
    for (const auto& group : groups_of(words(std::min(x, y), std::max(x, y), &PairMatch::segments, without))) {
      const double ahead = group[group.size() / 2].ahead;
      settings.push_back({x < y ? ahead : -ahead, static_cast<int>(group.size())});
    }
    return settings;
  }

  /// By how much y's clock is ahead of x's by what is proven, at once or by way of a third camera.
  std::vector<Setting> known(int x, int y, int without) const {
    std::vector<Setting> settings = proven(x, y, without);
    for (int by = 0; by < cameras_; ++by) {
      if (by == x || by == y) continue;
      const std::vector<Setting> onward = proven(by, y, without);
      for (const Setting& one : proven(x, by, without)) {
        for (const Setting& other : onward) {
          settings.push_back({one.ahead + other.ahead, std::min(one.pairs, other.pairs)});
        }
      }
    }
    return settings;
  }

  /// Doubted pairs of two cameras that their clocks bear out.
  std::vector<int> borne_out(int x, int y) const {
    const std::vector<Word> doubted = words(x, y, &PairMatch::doubted, -1);
    std::vector<int> found;
    if (doubted.empty()) return found;
    const std::vector<Setting> settings = known(x, y, -1);
    if (!settings.empty()) {
      for (const Word& word : doubted) {
        const auto same = [&](const Setting& one) { return std::abs(one.ahead - word.ahead) <= alike; };
        if (std::ranges::any_of(settings, same)) found.push_back(word.match);
      }
      return found;
    }
    auto groups = groups_of(doubted);
    std::ranges::stable_sort(groups, std::ranges::greater{}, [](const auto& group) { return group.size(); });
    // Clocks that are apart by two amounts at once tell nothing, unless more say the one.
    if (groups.size() > 1 && groups[0].size() == groups[1].size()) return found;
    if (!plausible(groups.front())) return found;
    for (const Word& word : groups.front()) found.push_back(word.match);
    return found;
  }

  static bool plausible(const std::vector<Word>& group) {
    const double ahead = group[group.size() / 2].ahead;
    const bool real = std::ranges::all_of(group, &Word::real);
    if (real && std::abs(ahead) <= set_alike) return true;
    if (group.size() < 2 || std::abs(ahead) > same_day) return false;
    if (real && std::abs(zone_rest(ahead)) <= same_minute) return true;
    const auto [first, last] = std::ranges::minmax(group, {}, &Word::when);
    return last.when - first.when >= another_song;
  }

  /// Proven pairs of clips that no other pair ties to anything, where clocks say something else.
  std::vector<int> spoken_against() const {
    std::vector<int> ties(clips_.size(), 0);
    for (const PairMatch& match : matches_) {
      if (match.segments.empty()) continue;
      ++ties[at(match.a)];
      ++ties[at(match.b)];
    }
    std::vector<int> found;
    for (int m = 0; m < static_cast<int>(matches_.size()); ++m) {
      const PairMatch& match = matches_[at(m)];
      if (match.segments.empty() || ties[at(match.a)] > 1 || ties[at(match.b)] > 1) continue;
      const auto word = word_of(m, match.segments);
      if (!word) continue;
      const auto [x, y] = std::minmax(clips_[at(match.a)].camera, clips_[at(match.b)].camera);
      bool against = false, borne_out = false;
      for (const Setting& one : known(x, y, m)) {
        const double off = std::abs(one.ahead - word->ahead);
        borne_out |= off <= surely_apart;
        against |= one.pairs >= fewest_against && off > surely_apart && off < same_day && !other_zones(off);
      }
      if (against && !borne_out) found.push_back(m);
    }
    return found;
  }

  const std::vector<ClipInput>& clips_;
  std::vector<PairMatch>& matches_;
  std::vector<const ClockHint*> stamps_;  // by clip
  int cameras_ = 0;
};

}  // namespace

void ask_clocks(const std::vector<ClipInput>& clips, std::vector<PairMatch>& matches) { Clocks{clips, matches}.run(); }

}  // namespace jigtime::sync
