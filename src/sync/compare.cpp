#include "sync/compare.h"

#include <algorithm>
#include <cmath>
#include <mutex>

#include "sync/at.h"
#include "sync/clock_talk.h"
#include "sync/close_search.h"
#include "sync/judge.h"
#include "sync/pair_memory.h"
#include "sync/parallel.h"
#include "sync/stamp_ends.h"

namespace jigtime::sync {

namespace {

constexpr double coarse_share = 0.3;  // of the work, for the progress
constexpr double close_from = 0.9;
/// Windows looked for closely, times the seconds they are looked for in, for each second of sound in the session: of
/// its first two minutes, in which a short clip shows all it has, and of the rest. Another simulation, 114 sessions:
/// with six for all of it, at least six windows a pair and sixteen around, one clip more was right, of 451.
constexpr double close_effort = 6, close_effort_of_rest = 3;
constexpr double all_of_short = 120;  // seconds
constexpr int fewest_windows = 4;
constexpr int windows_around = 8;  // looked for around where others prove a clip to be
constexpr int most_close_windows = 16;
constexpr int close_votes = 6;       // of each window
constexpr double same_lag = 0.1;     // seconds, of those within a second that are compared
constexpr double near_clocks = 2.8;  // seconds: stamps tell whole ones
constexpr int most_windows_about = 32;
constexpr double seconds_about = 8;  // that are transformed for each
constexpr int close_candidates = 2;  // if the first is not the place, the rest rarely is

double effort_for(double seconds) {
  const double first = std::min(seconds, all_of_short);
  return close_effort * first + close_effort_of_rest * (seconds - first);
}

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

/// What is remembered of pairs, and what of it has changed. What is told of one pair comes from one thread at a time.
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
  /// What a close search for about as many windows gave.
  const PairMatch* closer_match(std::size_t pair, int windows) const {
    const auto& facts = facts_[pair];
    return facts && facts->closer && 2 * facts->closer->windows >= windows ? &facts->closer->match : nullptr;
  }
  /// What comparing at about that lag gave.
  const PairMatch* expected_match(std::size_t pair, double lag, bool by_clocks) const {
    if (!facts_[pair]) return nullptr;
    const auto& expected = by_clocks ? facts_[pair]->by_clocks : facts_[pair]->expected;
    return expected && std::abs(expected->lag - lag) < same_lag ? &expected->match : nullptr;
  }
  void keep(std::size_t pair, const Prospect& prospect, const std::vector<int>& candidates, const PairMatch* match) {
    PairFacts facts{prospect.candidates, candidates, std::nullopt};
    if (match != nullptr) facts.match = *match;
    if (facts_[pair]) {
      facts.closer = std::move(facts_[pair]->closer);
      facts.expected = std::move(facts_[pair]->expected);
      facts.by_clocks = std::move(facts_[pair]->by_clocks);
    }
    facts_[pair] = std::move(facts);
    write(pair, prospect);
  }
  void keep_closer(std::size_t pair, const Prospect& prospect, PairFacts::Closer closer) {
    if (!facts_[pair]) facts_[pair] = PairFacts{prospect.candidates, {}, std::nullopt};
    facts_[pair]->closer = std::move(closer);
    write(pair, prospect);
  }
  void keep_expected(std::size_t pair, const Prospect& prospect, PairFacts::Expected expected, bool by_clocks) {
    if (!facts_[pair]) facts_[pair] = PairFacts{prospect.candidates, {}, std::nullopt};
    (by_clocks ? facts_[pair]->by_clocks : facts_[pair]->expected) = std::move(expected);
    write(pair, prospect);
  }

 private:
  void write(std::size_t pair, const Prospect& prospect) {
    if (kept_ == nullptr) return;
    const std::scoped_lock lock{keeping_};
    kept_->keep(prospect.a, prospect.b, packed(*facts_[pair]));
  }

  PairMemory* kept_;
  std::vector<std::optional<PairFacts>> facts_;
  std::mutex keeping_;
};

class Comparison {
 public:
  Comparison(const Ears& ears, std::vector<ClipInput>& clips, const Watch& watch)
      : ears_{ears},
        inputs_{clips},
        watch_{watch},
        progress_{watch},
        prospects_{pairs_of(ears, clips)},
        memory_{watch.memory, prospects_.size()} {
    for (std::size_t i = 0; i < clips.size(); ++i) {
      clips_.push_back({ears.seconds(static_cast<int>(i)), clips[i].camera});
    }
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
    for (const int i : unknown) memory_.keep(at(i), prospects_[at(i)], {}, nullptr);
    Schedule schedule{clips_, prospects_};
    int done = 0;
    const auto do_all = [&](const std::vector<Job>& jobs) {
      in_parallel<PairMatcher>(watch_.threads, static_cast<int>(jobs.size()), watch_.stop,
                               [&](PairMatcher& matcher, int i) { work(matcher, jobs[at(i)], matches); });
    };
    for (auto jobs = schedule.next(); !jobs.empty(); jobs = schedule.next()) {
      do_all(jobs);
      if (watch_.stop.stop_requested()) return matches;
      for (const Job& job : jobs) schedule.learn(matches[at(job.prospect)]);
      done += static_cast<int>(jobs.size());
      progress_.tell(coarse_share + (close_from - coarse_share) * done / std::max(1, done + schedule.waiting()));
    }
    do_all(schedule.left_out(known_by(matches)));
    listen_closely(matches);
    if (watch_.stop.stop_requested()) return matches;
    settle_ends(matches, inputs_);
    ask_cameras(inputs_, matches);
    look_where(told_by_clocks(matches), matches);
    // What clocks speak against tells nothing any more.
    Schedule known{clips_, prospects_};
    for (const PairMatch& match : matches) known.learn(match);
    look_where(questions_left(known, matches), matches);
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
      if (read && !watch_.stop.stop_requested()) memory_.keep(at(job.prospect), prospect, job.candidates, &match);
    }
    match.a = prospect.a;
    match.b = prospect.b;
  }

  /// By clip, whether anything is proven of it.
  std::vector<bool> known_by(const std::vector<PairMatch>& matches) const {
    std::vector<bool> known(clips_.size(), false);
    for (const PairMatch& match : matches) {
      if (match.tells()) known[at(match.a)] = known[at(match.b)] = true;
    }
    return known;
  }

  struct Tools {
    CloseSearch search;
    PairMatcher matcher;
  };
  struct CloseWork {
    std::vector<int> prospects;
    int windows = 0;  ///< to look for in each
  };

  /// Pairs with a clip of which nothing is proven, the likeliest first, as many as the effort allows.
  CloseWork close_work(const std::vector<PairMatch>& matches) const {
    const std::vector<bool> known = known_by(matches);
    std::vector<bool> heard(clips_.size(), false);
    for (const PairMatch& match : matches) heard[at(match.a)] = heard[at(match.b)] = true;
    double effort = 0;
    for (std::size_t clip = 0; clip < clips_.size(); ++clip) {
      if (heard[clip]) effort += effort_for(clips_[clip].seconds);
    }
    CloseWork work;
    for (int i = 0; i < static_cast<int>(prospects_.size()); ++i) {
      if (!known[at(prospects_[at(i)].a)] || !known[at(prospects_[at(i)].b)]) work.prospects.push_back(i);
    }
    const auto score = [&](int i) {
      const auto& candidates = prospects_[at(i)].candidates;
      return candidates.empty() ? 0 : candidates.front().score;
    };
    std::stable_sort(work.prospects.begin(), work.prospects.end(), [&](int i, int j) { return score(i) > score(j); });
    double searched = 0;  // seconds
    std::size_t affordable = 0;
    for (; affordable < work.prospects.size(); ++affordable) {
      const double more = clips_[at(prospects_[at(work.prospects[affordable])].b)].seconds;
      if (fewest_windows * (searched + more) > effort) break;
      searched += more;
    }
    work.prospects.resize(affordable);
    if (searched > 0) work.windows = std::min(most_close_windows, static_cast<int>(effort / searched));
    return work;
  }

  /// Clips of which nothing is proven are looked for once more, by the sound itself.
  void listen_closely(std::vector<PairMatch>& matches) {
    const CloseWork work = close_work(matches);
    in_parallel<Tools>(watch_.threads, static_cast<int>(work.prospects.size()), watch_.stop, [&](Tools& tools, int i) {
      const int p = work.prospects[at(i)];
      PairMatch match = compare_closely(tools.search, tools.matcher, at(p), work.windows);
      match.a = prospects_[at(p)].a;
      match.b = prospects_[at(p)].b;
      if (match.tells() || matches[at(p)].doubted.empty()) matches[at(p)] = std::move(match);
    });
  }

  struct Question {
    std::size_t prospect = 0;
    double lag = 0;        ///< at the middle of a; by clocks, when a begins
    bool closely = false;  ///< whether the effort allows to look for it around by the sound itself
    bool by_clocks = false;
  };

  double effort_for_all() const {
    double effort = 0;
    for (const Schedule::Clip& clip : clips_) effort += effort_for(clip.seconds);
    return effort;
  }

  /// Two clips that run together by their cameras' clocks, as other pairs tell these, and of which no place is proven.
  std::vector<Question> told_by_clocks(const std::vector<PairMatch>& matches) const {
    const ClockTalk clocks{inputs_, matches};
    double effort = effort_for_all();
    std::vector<Question> questions;
    for (std::size_t p = 0; p < matches.size(); ++p) {
      if (!matches[p].segments.empty() || matches[p].against_clocks) continue;
      const auto lag = clocks.expected_lag(matches[p].a, matches[p].b);
      if (!lag) continue;
      effort -= most_windows_about * seconds_about;
      questions.push_back({p, *lag, effort >= 0, true});
    }
    return questions;
  }

  /// Compares pairs at the places asked for.
  void look_where(const std::vector<Question>& questions, std::vector<PairMatch>& matches) {
    in_parallel<Tools>(watch_.threads, static_cast<int>(questions.size()), watch_.stop, [&](Tools& tools, int i) {
      const std::size_t p = questions[at(i)].prospect;
      PairMatch match = compare_where_expected(tools, questions[at(i)]);
      match.a = prospects_[p].a;
      match.b = prospects_[p].b;
      if (!match.segments.empty()) matches[p] = std::move(match);
    });
  }

  /// Two clips that must run together by what others prove, and of which nothing is known: what the coarse search
  /// missed in noise makes the place surer, and a loss that only this pair heard comes to light.
  std::vector<Question> questions_left(const Schedule& schedule, const std::vector<PairMatch>& matches) const {
    double effort = effort_for_all();
    std::vector<Question> questions;
    for (std::size_t p = 0; p < matches.size(); ++p) {
      if (matches[p].tells()) continue;
      const auto lag = schedule.expected_lag(matches[p].a, matches[p].b);
      if (!lag) continue;
      effort -= windows_around * around(p, *lag).length();
      questions.push_back({p, *lag, effort >= 0});
    }
    return questions;
  }

  /// Seconds of b in which a is expected, give or take what either can have lost.
  Extent around(std::size_t p, double lag) const {
    const Hearable& a = ears_.hearable(prospects_[p].a);
    const Hearable& b = ears_.hearable(prospects_[p].b);
    return {std::max(b.from, a.from + lag - longest_loss), std::min(b.to, a.to + lag + longest_loss)};
  }

  PairMatch compare_where_expected(Tools& tools, const Question& question) {
    const std::size_t p = question.prospect;
    if (const PairMatch* const known = memory_.expected_match(p, question.lag, question.by_clocks)) return *known;
    const Prospect& prospect = prospects_[p];
    PairFacts::Expected expected{question.lag, question.by_clocks ? match_where_clocks_say(tools, question)
                                                                  : match_where_others_say(tools, question)};
    const bool read = ears_.hearing(prospect.a).there() && ears_.hearing(prospect.b).there();
    if (read && !watch_.stop.stop_requested()) memory_.keep_expected(p, prospect, expected, question.by_clocks);
    return std::move(expected.match);
  }

  PairMatch match_where_clocks_say(Tools& tools, const Question& question) {
    const Prospect& prospect = prospects_[question.prospect];
    const Hearable& a = ears_.hearable(prospect.a);
    const Hearable& b = ears_.hearable(prospect.b);
    std::vector<Candidate> candidates = heard_within(question, {0, near_clocks});
    if (question.closely) {
      std::ranges::move(heard_about(tools.search, a, b, question.lag), std::back_inserter(candidates));
    }
    // What either lost leads to the other places that the coarse search saw nearby.
    std::ranges::move(heard_within(question, {near_clocks, longest_loss}), std::back_inserter(candidates));
    PairMatch match = tools.matcher.match(a, b, candidates, watch_.stop, PairMatcher::Known::by_clocks);
    return begins_near(match, question.lag) ? match : PairMatch{};
  }

  PairMatch match_where_others_say(Tools& tools, const Question& question) {
    const Prospect& prospect = prospects_[question.prospect];
    const Hearable& a = ears_.hearable(prospect.a);
    const Hearable& b = ears_.hearable(prospect.b);
    const auto match_at = [&](std::span<const Candidate> candidates) {
      return tools.matcher.match(a, b, candidates, watch_.stop, PairMatcher::Known::elsewhere);
    };
    std::vector<Candidate> candidates{{{(a.from + a.to) / 2, question.lag, 0}, most_slope, 0, 0, least_score, 0}};
    std::ranges::move(heard_within(question, {0, near_clocks}), std::back_inserter(candidates));
    std::ranges::move(heard_within(question, {near_clocks, longest_loss}), std::back_inserter(candidates));
    PairMatch match = match_at(candidates);
    if (!match.segments.empty() || !question.closely) return match;
    const Extent both{b.from - question.lag, b.to - question.lag};
    const auto votes = tools.search.search(a, b, around(question.prospect, question.lag),
                                           windows_to_look_for(a, windows_around, both), close_votes, watch_.stop);
    return match_at(gather(votes, close_candidates));
  }

  /// What the coarse search saw, likeliest first, so many seconds from the place that is asked about.
  std::vector<Candidate> heard_within(const Question& question, const Extent& off) const {
    const Prospect& prospect = prospects_[question.prospect];
    const Hearable& a = ears_.hearable(prospect.a);
    const double middle = (a.from + a.to) / 2;
    std::vector<Candidate> some;
    for (const Candidate& one : prospect.candidates) {
      const double distance = std::abs(one.line(middle) - question.lag);
      if (distance >= off.from && distance < off.to && one.score >= least_score) some.push_back(one);
    }
    return some;
  }

  /// Where the loudest windows of a are heard in b, each within what clocks leave open around the lag.
  std::vector<Candidate> heard_about(CloseSearch& search, const Hearable& a, const Hearable& b, double lag) const {
    const Extent both{b.from - lag + near_clocks, b.to - lag - near_clocks};
    const std::vector<double> places = windows_to_look_for(a, most_windows_about, both);
    const CloseSearch::Near near{{0, lag, 0}, near_clocks, {b.from, b.to}};
    auto votes = search.search_near(a, b, near, places, close_votes, watch_.stop);
    return gather(std::move(votes), close_candidates);
  }

  static bool begins_near(const PairMatch& match, double lag) {
    if (match.segments.empty()) return false;
    const auto near = [&](const Segment& one) { return std::abs(one.fit.line(one.from) - lag) <= near_clocks; };
    return near(match.segments.front()) && (match.segments.size() == 1 || near(strongest(match.segments)));
  }

  PairMatch compare_closely(CloseSearch& search, PairMatcher& matcher, std::size_t p, int windows) {
    const Prospect& prospect = prospects_[p];
    if (const PairMatch* const known = memory_.closer_match(p, windows)) return *known;
    const Hearable& a = ears_.hearable(prospect.a);
    const Hearable& b = ears_.hearable(prospect.b);
    PairFacts::Closer closer;
    closer.windows = windows;
    closer.candidates = gather(
        search.search(a, b, {b.from, b.to}, windows_to_look_for(a, windows, {a.from, a.to}), close_votes, watch_.stop),
        close_candidates);
    closer.match =
        matcher.match(a, b, closer.candidates, watch_.stop, PairMatcher::Known::nothing, prospect.candidates);
    const bool read = ears_.hearing(prospect.a).there() && ears_.hearing(prospect.b).there();
    if (read && !watch_.stop.stop_requested()) memory_.keep_closer(p, prospect, closer);
    return std::move(closer.match);
  }

  const Ears& ears_;
  std::vector<ClipInput>& inputs_;
  const Watch& watch_;
  Progress progress_;
  std::vector<Schedule::Clip> clips_;
  std::vector<Prospect> prospects_;
  Memory memory_;
};

}  // namespace

std::vector<PairMatch> compare(const Ears& ears, std::vector<ClipInput>& clips, const Watch& watch) {
  return Comparison{ears, clips, watch}.run();
}

}  // namespace jigtime::sync
