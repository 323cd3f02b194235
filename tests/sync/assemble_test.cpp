#include "sync/assemble.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/piece.h"
#include "sync/shop.h"

using namespace jigtime;
using namespace jigtime::sync;

namespace {

constexpr double noon = 1.7735e9;

/// Clips of a minute, each a node of its own, and what was solved of them.
struct Scene {
  std::vector<ClipInput> clips;
  Findings findings;

  int add(int camera, int component, double start, std::optional<double> wall = {}) {
    const int index = static_cast<int>(clips.size());
    ClipInput input;
    input.camera = camera;
    input.length = from_seconds(60);
    input.features = &features_;
    input.sound = &sound_;
    if (wall) input.clocks.push_back({WallTime{from_seconds(*wall)}, from_seconds(0.5), 1});
    clips.push_back(input);
    findings.graph.nodes.push_back({index, camera, 0, 60});
    findings.solved.places.push_back({start, 0, 0.001});
    findings.solved.component.push_back(component);
    findings.splits.emplace_back();
    findings.silent.push_back(false);
    return index;
  }

  void join(int a, int b) {
    PairMatch match;
    match.a = a;
    match.b = b;
    match.overlap = 30;
    match.segments.resize(1);
    match.segments[0].proof = 20;
    match.segments[0].windows = 12;
    match.segments[0].agreed = 9;
    Edge edge;
    edge.a = a;
    edge.b = b;
    edge.match = static_cast<int>(findings.matches.size());
    findings.matches.push_back(match);
    findings.graph.edges.push_back(edge);
    findings.solved.dropped.push_back(false);
  }

  LineUp run(int cameras) {
    findings.solved.rates.assign(static_cast<std::size_t>(cameras), 0);
    return assemble(clips, cameras, findings);
  }

 private:
  static inline const Features features_{};
  static inline const test::MemorySound sound_{{}};
};

double start_of(const LineUp& line_up, int clip) {
  const auto& pieces = line_up.clips[static_cast<std::size_t>(clip)].pieces;
  return pieces.empty() ? NAN : to_seconds(pieces.front().session_start.time_since_epoch());
}

bool has_note(const ClipResult& clip, Note::Kind kind) {
  return std::any_of(clip.notes.begin(), clip.notes.end(), [&](const Note& note) { return note.kind == kind; });
}

}  // namespace

TEST_CASE("the session begins with its earliest clip, and each clip says who bears it out") {
  Scene scene;
  const int a = scene.add(0, 0, 130), b = scene.add(1, 0, 100);
  scene.join(a, b);
  const LineUp line_up = scene.run(2);
  CHECK(start_of(line_up, a) == doctest::Approx(30));
  CHECK(start_of(line_up, b) == doctest::Approx(0));
  CHECK(line_up.clips[0].basis == Basis::audio);
  REQUIRE(line_up.clips[0].evidence.size() == 1);
  CHECK(line_up.clips[0].evidence[0].with == b);
  CHECK(line_up.clips[0].evidence[0].windows == 12);
  CHECK(line_up.clips[0].evidence[0].agreed == 9);
}

TEST_CASE("where nothing tells on which side a loss is, the pieces around it say so, and only there") {
  for (const double loose : {1.0, 12.0}) {
    Scene scene;
    const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 0);
    scene.join(a, b);
    // b's half after its loss is a node of its own.
    scene.findings.graph.nodes[1].to = 25;
    scene.findings.graph.nodes.push_back({b, 1, 25, 60});
    scene.findings.solved.places.push_back({25 + 8.0, 0, 0.001});
    scene.findings.solved.component.push_back(0);
    scene.findings.graph.links.push_back({1, 8, 0.01});
    scene.findings.splits[1].push_back({25, 8, 1, 13, 37, loose});
    const ClipResult clip = scene.run(2).clips[1];
    REQUIRE(!clip.notes.empty());
    CHECK(clip.notes.front().kind == Note::Kind::dropout);
    CHECK(to_seconds(clip.notes.front().loose) == doctest::Approx(loose > 2 ? loose : 0));
    const auto at = [&](double t) { return piece_at(clip.pieces, ClipTime{from_seconds(t)}); };
    for (const double t : {1.0, 12.9, 24.9, 25.1, 36.9, 37.1, 59.0}) {
      CAPTURE(t);
      REQUIRE(at(t) != nullptr);
      CHECK(to_seconds(at(t)->to_session(ClipTime{from_seconds(t)}).time_since_epoch()) ==
            doctest::Approx(t < 25 ? t : t + 8));
      const bool doubtful = loose > 2 && std::abs(t - 25) < loose;
      CHECK(to_seconds(at(t)->sigma) == doctest::Approx(doubtful ? 4 : 0.001).epsilon(0.01));
    }
    CHECK(clip.pieces.size() == (loose > 2 ? 4 : 2));
  }
}

TEST_CASE("an edge that was dropped bears nothing out") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10), c = scene.add(2, 1, 0);
  scene.join(a, b);
  scene.join(a, c);
  scene.findings.solved.dropped[1] = true;
  const LineUp line_up = scene.run(3);
  CHECK(line_up.clips[2].basis == Basis::none);
  CHECK(line_up.clips[2].pieces.empty());
  CHECK(line_up.clips[2].evidence.empty());
  CHECK(has_note(line_up.clips[2], Note::Kind::no_common_sound));
}

TEST_CASE("a clip that shares no sound lies where its camera's clock says, with that clock's doubt") {
  Scene scene;
  const int a = scene.add(0, 0, 0, noon), b = scene.add(1, 0, 10, noon + 10);
  const int alone = scene.add(0, 1, 0, noon + 400);
  scene.join(a, b);
  const LineUp line_up = scene.run(2);
  const ClipResult& clip = line_up.clips[static_cast<std::size_t>(alone)];
  CHECK(clip.basis == Basis::clock);
  CHECK(std::abs(start_of(line_up, alone) - 400) < 1);
  CHECK(to_seconds(clip.pieces[0].sigma) >= 0.5);
  REQUIRE(line_up.zero.has_value());
  CHECK(std::abs(to_seconds(line_up.zero->time_since_epoch()) - noon) < 1);
}

TEST_CASE("clips that share sound with each other but not with the rest say so") {
  Scene scene;
  const int a = scene.add(0, 0, 0, noon), b = scene.add(1, 0, 10, noon + 10);
  const int c = scene.add(0, 1, 0, noon + 500), d = scene.add(1, 1, 5, noon + 505);
  scene.join(a, b);
  scene.join(c, d);
  const LineUp line_up = scene.run(2);
  CHECK(line_up.clips[static_cast<std::size_t>(c)].basis == Basis::audio);
  CHECK(has_note(line_up.clips[static_cast<std::size_t>(c)], Note::Kind::unconnected));
  CHECK(!has_note(line_up.clips[static_cast<std::size_t>(a)], Note::Kind::unconnected));
  CHECK(std::abs(start_of(line_up, d) - start_of(line_up, c) - 5) < 1e-6);
  CHECK(std::abs(start_of(line_up, c) - 500) < 1);
}

TEST_CASE("where the builder put a clip it stays, and sound that disagrees is told") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10);
  scene.join(a, b);
  scene.clips[0].before = SessionTime{};
  scene.clips[1].manual = ManualPlace{ClipTime{from_seconds(5)}, SessionTime{from_seconds(16)}};
  const LineUp line_up = scene.run(2);
  CHECK(line_up.clips[1].basis == Basis::manual);
  CHECK(start_of(line_up, b) == doctest::Approx(11));
  CHECK(start_of(line_up, a) == doctest::Approx(0));
  CHECK(has_note(line_up.clips[1], Note::Kind::manual_disagrees));
  scene.clips[1].manual->is = SessionTime{from_seconds(15.01)};
  CHECK(!has_note(scene.run(2).clips[1], Note::Kind::manual_disagrees));
}

TEST_CASE("a clip that only a tie holds is placed by hand and says that a tie did it") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10), tied = scene.add(2, 0, 30);
  scene.join(a, b);
  Edge edge;
  edge.a = a;
  edge.b = tied;
  scene.findings.graph.edges.push_back(edge);
  scene.findings.solved.dropped.push_back(false);
  const LineUp line_up = scene.run(3);
  CHECK(line_up.clips[static_cast<std::size_t>(tied)].basis == Basis::manual);
  CHECK(line_up.clips[static_cast<std::size_t>(tied)].tied);
  CHECK(start_of(line_up, tied) == doctest::Approx(30));
  CHECK(line_up.clips[static_cast<std::size_t>(a)].basis == Basis::audio);
  CHECK(!line_up.clips[static_cast<std::size_t>(a)].tied);
}

TEST_CASE("a part of a clip that lost time is a piece of its own and is told") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10);
  scene.join(a, b);
  scene.findings.graph.nodes[0].to = 20;
  scene.findings.graph.nodes.push_back({a, 0, 20, 60});
  scene.findings.solved.places.push_back({20.4, 0, 0.001});
  scene.findings.solved.component.push_back(0);
  scene.findings.graph.links.push_back({0, 0.4, 0.001});
  scene.findings.splits[0].push_back({20, 0.4, 1, 19, 21});
  const LineUp line_up = scene.run(2);
  REQUIRE(line_up.clips[0].pieces.size() == 2);
  CHECK(to_seconds(line_up.clips[0].pieces[1].session_start.time_since_epoch()) == doctest::Approx(20.4));
  CHECK(has_note(line_up.clips[0], Note::Kind::dropout));
}

TEST_CASE("a question of two places is put to the clip that lies nowhere yet, with both places on the session clock") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 0), lost = scene.add(2, 1, 0);
  scene.join(a, b);
  PairMatch match;
  match.a = lost;
  match.b = a;
  match.rivals.resize(2);
  match.rivals[0].fit.line = {0, 12, 0};
  match.rivals[1].fit.line = {0, 34, 0};
  scene.findings.matches.push_back(match);
  const LineUp line_up = scene.run(3);
  const auto& notes = line_up.clips[static_cast<std::size_t>(lost)].notes;
  const auto asked =
      std::find_if(notes.begin(), notes.end(), [](const Note& note) { return note.kind == Note::Kind::two_places; });
  REQUIRE(asked != notes.end());
  CHECK(asked->other == a);
  CHECK(to_seconds(asked->at.time_since_epoch()) == doctest::Approx(12));
  CHECK(to_seconds(asked->at_2.time_since_epoch()) == doctest::Approx(34));
  CHECK(!has_note(line_up.clips[static_cast<std::size_t>(lost)], Note::Kind::no_common_sound));
}

TEST_CASE("a clip whose sound fits where it cannot lie is told so, with the place") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10), c = scene.add(1, 1, 0);
  scene.join(a, b);
  Refused refused{a, c, {}, {b, c}};
  refused.segment.fit.line = {30, -20, 0};
  scene.findings.refused.push_back(refused);
  const ClipResult clip = scene.run(2).clips[static_cast<std::size_t>(c)];
  CHECK(clip.basis == Basis::none);
  REQUIRE(has_note(clip, Note::Kind::not_then));
  CHECK_FALSE(has_note(clip, Note::Kind::no_common_sound));
  const Note& note = clip.notes.back();
  CHECK(note.other == a);
  CHECK(note.clash == b);
  CHECK(note.clash_2 == c);
  CHECK(to_seconds(note.at.time_since_epoch()) == doctest::Approx(20));
}

TEST_CASE("a clip is told where it may lie though that is doubted, unless more is known") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10), c = scene.add(2, 1, 0);
  scene.join(a, b);
  PairMatch match;
  match.a = a;
  match.b = c;
  match.doubted.resize(1);
  match.doubted[0].fit.line = {30, -20, 0};
  scene.findings.matches.push_back(match);
  const ClipResult clip = scene.run(3).clips[static_cast<std::size_t>(c)];
  CHECK(clip.basis == Basis::none);
  REQUIRE(has_note(clip, Note::Kind::perhaps_then));
  CHECK_FALSE(has_note(clip, Note::Kind::no_common_sound));
  CHECK(to_seconds(clip.notes.back().at.time_since_epoch()) == doctest::Approx(20));
  CHECK(clip.notes.back().other == a);
  scene.findings.matches.back().doubted.clear();
  scene.findings.matches.back().rivals.assign(2, match.doubted[0]);
  scene.findings.matches.push_back(match);
  const ClipResult told = scene.run(3).clips[static_cast<std::size_t>(c)];
  CHECK(has_note(told, Note::Kind::two_places));
  CHECK_FALSE(has_note(told, Note::Kind::perhaps_then));
}

TEST_CASE("a clip without a place is told if the clock of its camera cannot be right") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10, noon), c = scene.add(1, 1, 0, noon + 5);
  scene.join(a, b);
  const ClipResult clip = scene.run(2).clips[static_cast<std::size_t>(c)];
  CHECK(clip.basis == Basis::none);
  CHECK(has_note(clip, Note::Kind::clock_at_once));
}

TEST_CASE("clips that nothing ties to the rest are told what they share") {
  Scene scene;
  const int a = scene.add(0, 0, 0), b = scene.add(1, 0, 10), c = scene.add(0, 1, 0), d = scene.add(1, 1, 5);
  scene.join(a, b);
  scene.join(c, d);
  const LineUp line_up = scene.run(2);
  CHECK(line_up.clips[static_cast<std::size_t>(c)].basis == Basis::none);
  REQUIRE(has_note(line_up.clips[static_cast<std::size_t>(c)], Note::Kind::adrift));
  CHECK(line_up.clips[static_cast<std::size_t>(c)].notes.back().other == d);
  CHECK_FALSE(has_note(line_up.clips[static_cast<std::size_t>(a)], Note::Kind::adrift));
}

TEST_CASE("a clip whose clock speaks against well proven sound is placed by neither") {
  for (const bool against : {false, true}) {
    Scene scene;
    const int a = scene.add(0, 0, 0, noon), b = scene.add(1, 0, 10, noon + 10);
    const int c = scene.add(0, 1, 0, noon + 100), d = scene.add(1, 2, 0, noon + 148);
    scene.join(a, b);
    PairMatch match;
    match.a = c;
    match.b = d;
    match.against_clocks = against;
    match.doubted.resize(1);
    scene.findings.matches.push_back(match);
    const LineUp line_up = scene.run(2);
    for (const int clip : {c, d}) {
      CHECK((line_up.clips[static_cast<std::size_t>(clip)].basis == Basis::clock) != against);
    }
  }
}
