#include "sync/agreed_blows.h"

#include <doctest/doctest.h>

#include "match.h"

using namespace jigtime;
using namespace jigtime::sync;

namespace {

Segment piece(double from, double to, double lag) {
  Segment segment;
  segment.from = from;
  segment.to = to;
  segment.fit.line = {from, lag, 0};
  segment.fit.spread = 0.01;
  segment.observations = {{from, lag, 1}, {to, lag, 1}};
  segment.doubt = 0.014;
  return segment;
}

/// Clips that jump against each other at `at` seconds of a, and leave it out as a blow that riveting makes doubtful.
PairMatch in_doubt(int a, int b, double at, double lag, double jump) {
  PairMatch match = test::match(a, b, {piece(0, at - 3, lag)});
  match.with_blows = {piece(0, at - 3, lag), piece(at + 3, 2 * at, lag + jump)};
  return match;
}

const std::vector<ClipInput> no_parts(3);

std::size_t pieces_of(PairMatch one, PairMatch other) {
  std::vector<PairMatch> matches{std::move(one), std::move(other)};
  believe_agreed(no_parts, matches);
  CHECK(matches[0].segments.size() == matches[1].segments.size());
  return matches[0].segments.size();
}

}  // namespace

TEST_CASE("a jump of a blow is believed where two pairs tell the same loss of the clip that they share") {
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(0, 2, 65, 44, 0.081)) == 2);
  // The one that lost may be the other of a pair: it is then ten seconds later by its own time.
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, -0.087), in_doubt(1, 2, 75, 44, 0.081)) == 2);
}

TEST_CASE("a jump of a blow stays out where the other pair tells another loss, or of another moment or clip") {
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(0, 2, 65, 44, 0.06)) == 1);
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(0, 2, 65, 44, -0.087)) == 1);
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(0, 2, 90, 44, 0.087)) == 1);
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(2, 1, 65, 10, 0.087)) == 1);
  CHECK(pieces_of(in_doubt(0, 1, 65, 10, 0.087), in_doubt(0, 1, 65, 10, 0.087)) == 1);  // the same pair
}

TEST_CASE("a jump that one pair believes bears out what another leaves in doubt") {
  PairMatch sure = test::match(0, 2, {piece(0, 62, 44), piece(68, 130, 44.085)});
  std::vector<PairMatch> matches{in_doubt(0, 1, 65, 10, 0.087), sure};
  believe_agreed(no_parts, matches);
  REQUIRE(matches[0].segments.size() == 2);
  CHECK(matches[0].segments[1].from == 68);
  CHECK(matches[1].segments.size() == 2);
}

TEST_CASE("a pair of which nothing is believed stays as it is") {
  PairMatch refused = in_doubt(0, 1, 65, 10, 0.087);
  refused.segments.clear();
  std::vector<PairMatch> matches{refused, in_doubt(0, 2, 65, 44, 0.087)};
  believe_agreed(no_parts, matches);
  CHECK(matches[0].segments.empty());
  CHECK(matches[1].segments.size() == 1);
}

TEST_CASE("a line that moves to the blow beside and comes back is no loss of nothing") {
  PairMatch there_and_back = test::match(0, 1, {piece(0, 200, 10)});
  there_and_back.with_blows = {piece(0, 62, 10), piece(68, 130, 10.06), piece(136, 200, 10)};
  there_and_back.with_blows[1].proof = 1;
  there_and_back.with_blows[0].proof = there_and_back.with_blows[2].proof = 20;
  std::vector<PairMatch> matches{there_and_back};
  believe_agreed(no_parts, matches);
  REQUIRE(matches[0].segments.size() == 1);
  CHECK(matches[0].segments[0].to == 200);
}

TEST_CASE("a jump of a blow is believed where parts of a recording meet, if as much was lost where others do") {
  std::vector<ClipInput> clips(2);
  for (const int second : {65, 130, 195}) clips[0].joins.push_back(ClipTime{std::chrono::seconds{second}});
  const auto pieces_with = [&](double second_jump, double second_at, double loose = 0) {
    PairMatch match = test::match(0, 1, {piece(0, 62, 10)});
    match.with_blows = {piece(0, 62, 10), piece(68, second_at - 3, 10.087),
                        piece(second_at + 3, 260, 10.087 + second_jump)};
    match.with_blows.back().loose = loose;
    std::vector<PairMatch> matches{match};
    believe_agreed(clips, matches);
    return matches[0].segments.size();
  };
  CHECK(pieces_with(0.08, 130) == 3);
  CHECK(pieces_with(0.06, 130) == 1);      // another length
  CHECK(pieces_with(-0.08, 130) == 1);     // the other clip's, which has no parts
  CHECK(pieces_with(0.08, 110) == 1);      // nothing meets there
  CHECK(pieces_with(0.08, 110, 20) == 3);  // but it may have been where the parts meet: nothing was heard that tells
}
