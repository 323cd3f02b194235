// Whether what a clip hears loudest is heard in the other clip too.
// Must never know: samples, a third clip.
//
// Whole windows agree where a song lies under the work of two days, however loud the work is: the song goes on, blows
// are short. But a blow that stands far out of what went before in one clip is mostly heard by the other microphones of
// its shop.
#pragma once

#include <array>
#include <span>

#include "sync/features.h"
#include "sync/hearable.h"
#include "sync/line.h"
#include "sync/segment.h"

namespace jigtime::sync {

/// Of a clip's loudest events.
struct Echoes {
  int events = 0;
  int heard = 0;  ///< in the other clip, where the line says
};

/// The loudest event of each of at most 240 stretches of two seconds, spread evenly over `within`, clip seconds of
/// `own`, if it stands far out of noise. What is `own` at t is `other` at t + line(t). An event at which `other` is
/// silent, or has too little sound around it, is not counted, nor one that is heard in few bands or the low ones alone.
Echoes echoes_of(const Frames& own, const Frames& other, const Extent& within, const Line& line);

/// Those of either clip of a pair.
struct Blows {
  Echoes of_a;
  Echoes of_b;
  std::array<Echoes, 4> quarters{};  ///< those of both, by the quarters of what the two share
  /// The loudest third of each clip's.
  struct Loudest {
    Echoes of_a;
    Echoes of_b;
    std::array<Echoes, 4> quarters{};
    int events() const { return of_a.events + of_b.events; }
  };
  Loudest loudest{};
  Echoes faintest{};      ///< a third of each clip's
  int surely_missed = 0;  ///< too loud for noise to hide them in the other clip, and not heard there
  int events() const { return of_a.events + of_b.events; }
  /// 0 without any.
  double share_heard() const;
};
/// Along the segments' lines, which are in a's order. `both`: what the two clips share along the lines of the first and
/// the last, clip seconds of a.
Blows blows_along(const Frames& a, const Frames& b, std::span<const Segment> segments, const Extent& both);

/// Whether too many loud events of the two clips are not heard in the other, more than noise and luck hide. Wind and
/// hands on a camera are loud in one clip only: where nearly all of the other's are heard, eight or more, nothing is
/// said. False with few such events, or none: noise hides what is far from it; but those of one clip alone are enough
/// if most of many are not heard, of more where the two share more than half a minute (`shared`, seconds). Where nearly
/// all windows agree (`agreeing` is their share), more are asked for.
bool work_alone(const Blows& blows, double shared, double agreeing);

/// Whether there are many in most quarters, and nearly all of them are heard in each: what is loudest is then of one
/// day. A song that both heard for a while has many that agree, but not all along.
bool blows_agree(const Blows& blows);

/// Whether of the loudest ones nearly all are heard, all along, and clearly fewer of the faintest: noise hides what is
/// faint first, and little goes unheard that it could not hide. Where a song was played on two days, each day's own
/// work goes unheard, and is the loudest or at least as loud as that.
bool loudest_agree(const Blows& blows);
/// So many that it counts more than that music fits elsewhere as well.
bool many_loudest_agree(const Blows& blows);

}  // namespace jigtime::sync
