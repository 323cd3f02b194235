#include "sync/echoes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "signal/statistics.h"
#include "sync/judge.h"

namespace jigtime::sync {

namespace {

constexpr double part_seconds = 2;
constexpr double most_parts = 240;
constexpr int event_frames = 2;  // a blow that falls between two is in both
constexpr double loud = 9;    // units of Frames::activity: own simulation, few sounds rise so far out of noise at 0 dB
constexpr int low_bands = 5;  // up to 600 Hz
constexpr int fewest_bands = 5;                                         // above them
constexpr auto clearly_risen = static_cast<std::int16_t>(value_steps);  // by a band's usual spread
constexpr int way = 1;       // frames: microphones that stand six metres apart
constexpr int around = 150;  // frames: what is heard by chance
constexpr int blow = 12;     // frames around the place in which the event itself still sounds
constexpr int step = 3;
constexpr int fewest_around = 30;
constexpr double stands_out = 0.85;  // of the places around, those that are less alike
/// Of the event's likeness to itself, where much else around is alike too.
constexpr double as_good_as_itself = 0.3;
constexpr int fewest_events = 2;  // of either clip
constexpr int fewest_of_both = 4;
constexpr int fewest_against_all = 12;  // where nearly all windows agree
constexpr double usually_missed = 0.1;
/// Log10 of the chance to miss as many of both clips' events. Real music under the work of two days, 138 lines proven:
/// with the other guards all but 29 are refused. Of one day: of 12 with a radio none, of 97 in the own simulation,
/// wind, gain and cut bands among them, two.
constexpr double too_many_missed = -1.5;
/// Of many of both clips' events the share that must be missed: chance alone refuses the work of one day where a shop
/// hides a little more than usual. Own simulation, songs of two days: 0.31 and more; another simulation, work of one
/// day: up to 0.25.
constexpr double least_missed = 0.28, least_missed_of_one = 0.34;
constexpr int many_events = 40;
constexpr double hardly_missed = -0.7;  // of one clip's
constexpr int fewest_of_one = 8;
/// In a short overlap, of one clip's where the other has none to tell. Another simulation, a song of two days at the
/// end of a clip: 5 of 9 missed (-3.1); own simulation, work of one day: 3 of 9 (-1.3).
constexpr double far_too_many_missed = -2.5;
constexpr double short_overlap = 30;  // seconds
/// The same in a longer one. Own simulation, a song of two days louder than all else in one clip: 19 of 34 (-10.3); of
/// one day, 115 pairs asked under wind, hands, gain and cut bands: none in which one clip alone had eight.
constexpr int fewest_in_long = 16;
constexpr double most_of_many = 0.5;  // must be missed there: up to a quarter is on one day (least_missed)
constexpr double surely_too_many_missed = -6;

/// Of many of both clips' events the share that is heard where they are of one day. Own simulation, songs of two days
/// under work, 20 pairs that other guards let come so far: 0.61 at the most; another simulation, work of one day at 5
/// and 10 dB: most have 0.8 and more, but 0.7 along a line that a strong reflection had put 35 ms beside. A song with
/// drums over three fifths of what two days share, dull work beside it: up to 0.9 of all, 0.4 and less in the last
/// quarter.
constexpr double nearly_all_heard = 0.8, most_of_a_part = 0.65;  // of either clip's, and of each quarter's
constexpr int enough_to_agree = 16;
constexpr int fewest_that_tell = 4;  // of a clip or a quarter; of fewer, one missed would decide
constexpr int fewest_quarters = 3;   // in which there are any
/// Of the loudest third of the events, and by how much less of the faintest third, in all and in standard errors. Own
/// simulation, songs of two days under work: 0.17 to 0.44 of the loudest, 0.36 and more of the faintest, which are the
/// song's; another simulation, work of one day at 10 and 20 dB that other guards refused: 0.84 to 1 and 0.54 to 0.69.
constexpr double loudest_heard = 0.8, less_heard = 0.12, clearly_less = 1.6;
constexpr int enough_loudest = 12;
/// Units of Frames::activity that noise does not hide, and the share that may be so loud, of what is not heard and of
/// all. Drums louder than the work of two days: 0.99 of what is not heard, and where noise hides much of that work,
/// more than 0.05 of all (tests); another simulation, work of one day that other guards refused: 0.24 of what is not
/// heard and less, 0.03 of all, once 0.09.
constexpr double surely_heard = 2 * loud, most_of_unheard = 0.35, most_surely_missed = 0.05;
constexpr double half_of_a_part = 0.5;  // of each quarter's loudest, of which there are few

/// How alike two frames rise over all bands.
double likeness(const Frames& a, int i, const Frames& b, int j) {
  double sum = 0;
  for (int band = 0; band < feature_bands; ++band) {
    const double in_a = a.band(band)[static_cast<std::size_t>(i)], in_b = b.band(band)[static_cast<std::size_t>(j)];
    sum += std::max(0.0, in_a) * std::max(0.0, in_b);
  }
  return sum;
}

/// Whether it is heard in many bands and not in the low ones alone: wind and hands on a camera are dull, and noise
/// rises in one band or another.
bool is_broad(const Frames& own, int event) {
  int bands = 0;
  for (int band = low_bands; band < feature_bands; ++band) {
    const auto values = own.band(band).subspan(static_cast<std::size_t>(event), event_frames);
    bands += *std::max_element(values.begin(), values.end()) >= clearly_risen ? 1 : 0;
  }
  return bands >= fewest_bands;
}

/// Of an event, frames of `own` from `event` on, in `other` from `at` on, give or take a way.
double likeness_near(const Frames& own, int event, const Frames& other, int at) {
  double most = 0;
  for (int frame = at - way; frame <= at + way; ++frame) {
    for (int i = 0; i < event_frames; ++i) {
      if (frame + i < 0 || frame + i >= other.count() || event + i >= own.count()) continue;
      most = std::max(most, likeness(own, event + i, other, frame + i));
    }
  }
  return most;
}

/// Nothing where too little lies around to tell, or all of it is silent.
std::optional<bool> hears(const Frames& other, int at, const Frames& own, int event) {
  if (at < 0 || at >= other.count()) return std::nullopt;
  const double here = likeness_near(own, event, other, at);
  int less = 0, all = 0;
  double most = here;
  for (int off = -around; off <= around; off += step) {
    if (std::abs(off) < blow || at + off < 0 || at + off >= other.count()) continue;
    ++all;
    const double there = likeness_near(own, event, other, at + off);
    less += there < here ? 1 : 0;
    most = std::max(most, there);
  }
  if (all < fewest_around || most <= 0) return std::nullopt;
  return less >= stands_out * all || here >= as_good_as_itself * likeness_near(own, event, own, event);
}

/// What happens at a frame, give or take a way.
double strength_near(const Frames& frames, double frame) {
  double most = 0;
  for (int off = -way; off <= way; ++off) {
    const double from = frame + off + 0.5;
    most = std::max(most, frames.activity(frames.time_of(from), frames.time_of(from + event_frames)));
  }
  return most;
}

struct Event {
  double at = 0;  // clip seconds
  double strength = 0;
  double there = 0;  ///< in the other clip
  bool heard = false;
};

/// An event by when it was in what the two clips share.
struct Placed {
  Event event;
  std::size_t quarter = 0;
};

void count(const Event& event, Echoes& echoes) {
  ++echoes.events;
  echoes.heard += event.heard ? 1 : 0;
}

/// The events that echoes_of counts, in order.
std::vector<Event> events_of(const Frames& own, const Frames& other, const Extent& within, const Line& line) {
  std::vector<Event> events;
  const double parts = std::clamp(std::floor(within.length() / part_seconds), 1.0, most_parts);
  const double apart = within.length() / parts, length = std::min(apart, part_seconds);
  int before = -blow;
  for (double part = 0; part < parts; ++part) {
    const double from = within.from + part * apart;
    const int first = std::max(0, static_cast<int>(std::ceil(own.frame_at(from))));
    const int end = std::min(own.count() - event_frames + 1, static_cast<int>(std::floor(own.frame_at(from + length))));
    double most = loud;
    int event = -1;
    for (int frame = first; frame < end; ++frame) {
      const double strength = own.activity(own.time_of(frame + 0.5), own.time_of(frame + event_frames + 0.5));
      if (strength <= most || !is_broad(own, frame)) continue;
      most = strength;
      event = frame;
    }
    if (event < 0 || event - before < blow) continue;
    before = event;
    const double at = own.time_of(event);
    const auto heard = hears(other, static_cast<int>(std::lround(other.frame_at(at + line(at)))), own, event);
    if (!heard) continue;
    events.push_back({at, most, strength_near(other, other.frame_at(at + line(at))), *heard});
  }
  return events;
}

/// How many of the events, strongest first, the other clip does not hear though it should, by how much fainter or
/// louder it hears the loudest.
int surely_missed(std::span<const Placed> events) {
  std::vector<double> louder;
  for (const Placed& one : events.first(events.size() / 3)) {
    if (one.event.heard) louder.push_back(one.event.there / one.event.strength);
  }
  if (louder.empty()) return 0;
  const double usual = signal::median(std::move(louder));
  return static_cast<int>(std::ranges::count_if(events, [&](const Placed& one) {
    return !one.event.heard && one.event.strength * std::min(1.0, usual) >= surely_heard;
  }));
}

/// One clip's, into its own counts and those of both.
void count_all(std::vector<Placed> events, Echoes& own, Echoes& own_loudest, Blows& blows) {
  std::ranges::stable_sort(events, std::ranges::greater{}, [](const Placed& one) { return one.event.strength; });
  const std::size_t third = events.size() / 3;
  for (std::size_t i = 0; i < events.size(); ++i) {
    const auto& [event, quarter] = events[i];
    count(event, own);
    count(event, blows.quarters[quarter]);
    if (i < third) {
      count(event, own_loudest);
      count(event, blows.loudest.quarters[quarter]);
    }
    if (i >= events.size() - third) count(event, blows.faintest);
  }
  blows.surely_missed += surely_missed(events);
}

double share_of(const Echoes& echoes) {
  return echoes.events == 0 ? 0 : static_cast<double>(echoes.heard) / echoes.events;
}

bool hears_share(const Echoes& own, double share) {
  return own.events < fewest_that_tell || own.heard >= share * own.events;
}

bool hears_most(const Echoes& own) { return hears_share(own, most_of_a_part); }

/// Whether there are events in most quarters, and that share of each quarter's is heard.
bool all_along(const std::array<Echoes, 4>& quarters, double share) {
  const auto told = std::ranges::count_if(quarters, [](const Echoes& one) { return one.events >= 2; });
  return told >= fewest_quarters &&
         std::ranges::all_of(quarters, [share](const Echoes& one) { return hears_share(one, share); });
}

}  // namespace

Echoes echoes_of(const Frames& own, const Frames& other, const Extent& within, const Line& line) {
  Echoes echoes;
  for (const Event& event : events_of(own, other, within, line)) count(event, echoes);
  return echoes;
}

double Blows::share_heard() const { return share_of({of_a.events + of_b.events, of_a.heard + of_b.heard}); }

Blows blows_along(const Frames& a, const Frames& b, std::span<const Segment> segments, const Extent& both) {
  std::vector<Placed> of_a, of_b;
  const auto add = [&](const Event& event, double at_in_a, std::vector<Placed>& own) {
    const double share = both.length() > 0 ? (at_in_a - both.from) / both.length() : 0;
    own.push_back({event, static_cast<std::size_t>(std::clamp(std::floor(4 * share), 0.0, 3.0))});
  };
  for (const Segment& segment : segments) {
    const Line& line = segment.fit.line;
    const Line back = reversed(line);
    // Between two of them lies a loss, and where in it is not known yet.
    const Extent in_a{&segment == &segments.front() ? std::min(both.from, segment.from) : segment.from,
                      &segment == &segments.back() ? std::max(both.to, segment.to) : segment.to};
    const Extent in_b{in_a.from + line(in_a.from), in_a.to + line(in_a.to)};
    for (const Event& one : events_of(a, b, in_a, line)) add(one, one.at, of_a);
    for (const Event& one : events_of(b, a, in_b, back)) add(one, one.at + back(one.at), of_b);
  }
  Blows blows;
  count_all(std::move(of_a), blows.of_a, blows.loudest.of_a, blows);
  count_all(std::move(of_b), blows.of_b, blows.loudest.of_b, blows);
  return blows;
}

bool work_alone(const Blows& blows, double shared, double agreeing) {
  const Echoes &of_a = blows.of_a, &of_b = blows.of_b;
  const auto by_chance = [](const Echoes& own) {
    return signal::log10_binomial_tail(own.events - own.heard, own.events, usually_missed);
  };
  if (std::min(of_a.events, of_b.events) < fewest_events) {
    const Echoes& most = of_a.events > of_b.events ? of_a : of_b;
    if (shared < short_overlap) return most.events >= fewest_of_one && by_chance(most) < far_too_many_missed;
    return most.events >= fewest_in_long && by_chance(most) < surely_too_many_missed &&
           most.events - most.heard >= most_of_many * most.events;
  }
  const Echoes all{of_a.events + of_b.events, of_a.heard + of_b.heard};
  if (all.events < (agreeing < nearly_all_agree ? fewest_of_both : fewest_against_all)) return false;
  const auto misses_less = [](const Echoes& one, double share) { return one.events - one.heard < share * one.events; };
  const bool few_missed = misses_less(all, least_missed) && misses_less(of_a, least_missed_of_one) &&
                          misses_less(of_b, least_missed_of_one);
  if (all.events >= many_events && few_missed) return false;
  const auto has_all = [&](const Echoes& own) { return own.events >= fewest_of_one && by_chance(own) > hardly_missed; };
  return by_chance(all) < too_many_missed && !has_all(of_a) && !has_all(of_b) && !loudest_agree(blows);
}

bool blows_agree(const Blows& blows) {
  return blows.events() >= enough_to_agree && blows.share_heard() >= nearly_all_heard && hears_most(blows.of_a) &&
         hears_most(blows.of_b) && all_along(blows.quarters, most_of_a_part);
}

bool loudest_agree(const Blows& blows) {
  const Blows::Loudest& loudest = blows.loudest;
  const Echoes all{loudest.of_a.events + loudest.of_b.events, loudest.of_a.heard + loudest.of_b.heard};
  if (loudest.events() < enough_loudest || share_of(all) < loudest_heard) return false;
  const int unheard = blows.events() - blows.of_a.heard - blows.of_b.heard;
  if (blows.surely_missed > std::min(most_of_unheard * unheard, most_surely_missed * blows.events())) return false;
  const double loud = share_of(all), faint = share_of(blows.faintest);
  const double error = std::sqrt((loud * (1 - loud) + faint * (1 - faint)) / loudest.events());
  return loud - faint >= std::max(less_heard, clearly_less * error) && hears_most(loudest.of_a) &&
         hears_most(loudest.of_b) && all_along(loudest.quarters, half_of_a_part);
}

bool many_loudest_agree(const Blows& blows) {
  return blows.loudest.events() >= 2 * enough_loudest && loudest_agree(blows);
}

}  // namespace jigtime::sync
