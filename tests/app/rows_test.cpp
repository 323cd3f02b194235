#include "app/view/rows.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length t) { return SessionTime{t}; }

/// One camera with two clips, the second in doubt; one person with a span and a break; a mark; something heard.
struct Sample {
  journal::Register known;
  journal::SessionRecord record;

  Sample() {
    known.cameras = {{journal::CameraId{4}, "bench"}};
    known.people = {{journal::PersonId{1}, "Tova", journal::Role::builder}};
    known.tasks = {{journal::TaskId{7}, "Rivet the skin", {}, "", ""}};
    clip(21, 0s, 60s, journal::Basis::audio, 400us);
    clip(22, 90s, 150s, journal::Basis::clock, 9s);
    span(31, 10s, 50s, journal::SpanKind::work);
    span(32, 60s, 80s, journal::SpanKind::pause);
    record.marks = {{journal::MarkId{41}, {}, at(30s), "look again"}};
    record.proposals = {{journal::ProposalId{51}, {}, journal::ProposalKind::riveting, at(20s), at(40s), 12, 900}};
  }

  void clip(std::int64_t id, Length from, Length to, journal::Basis basis, Length sigma) {
    journal::Clip one;
    one.id = journal::ClipId{id};
    one.camera = journal::CameraId{4};
    one.length = to - from;
    one.parts.emplace_back().path = "TAKE" + std::to_string(id) + ".MP4";
    record.clips.push_back(one);
    record.placements.push_back({one.id, basis, {{ClipTime{}, ClipTime{one.length}, at(from), 0, sigma}}, {}, {}});
  }

  void span(std::int64_t id, Length from, Length to, journal::SpanKind kind) {
    journal::Span one;
    one.id = journal::SpanId{id};
    one.kind = kind;
    one.begin = at(from);
    one.end = at(to);
    if (kind == journal::SpanKind::work) one.task = journal::TaskId{7};
    one.people = {journal::PersonId{1}};
    one.fasteners = {{"MS20426AD3-4", journal::Method::squeezed, 72, 2}};
    record.spans.push_back(one);
  }

  StripRows rows() const {
    report::Timeline timeline;
    timeline.known = known;
    timeline.record = record;
    return rows_of(report::day_of(timeline), known, record);
  }
};

}  // namespace

TEST_CASE("a stretch of a clip that is less sure than the rest says so, and only that") {
  Sample sample;
  auto& pieces = sample.record.placements[0].pieces;
  pieces = {{ClipTime{}, ClipTime{20s}, at(0s), 0, 400us},
            {ClipTime{20s}, ClipTime{30s}, at(20s), 0, 2s},
            {ClipTime{30s}, ClipTime{60s}, at(34s), 0, 400us}};
  const StripRows rows = sample.rows();
  const auto camera =
      std::find_if(rows.rows.begin(), rows.rows.end(), [](const StripRow& row) { return row.kind == RowKind::camera; });
  REQUIRE(camera != rows.rows.end());
  std::vector<bool> vague;
  for (const StripItem& item : camera->items) {
    if (item.kind != ItemKind::clip || item.id != 21) continue;
    vague.push_back(item.vague);
    CHECK(!item.weak);
    CHECK((item.about.find("less sure, ± 2.0 s") != std::string::npos) == item.vague);
    CHECK(item.about.find("± 0.40 ms") != std::string::npos);
  }
  CHECK(vague == std::vector{false, true, false});
}

TEST_CASE("marks, cameras, people and what was heard each have their row, with the record's own ids") {
  const StripRows rows = Sample{}.rows();
  REQUIRE(rows.rows.size() == 4);
  CHECK(rows.rows[0].items.front().id == 41);
  CHECK(rows.rows[1].camera == journal::CameraId{4});
  REQUIRE(rows.rows[1].items.size() == 3);
  CHECK(rows.rows[1].items[0].id == 21);
  CHECK(rows.rows[1].items[1].kind == ItemKind::dropout);
  CHECK(rows.rows[2].items[0].id == 31);
  CHECK(rows.rows[2].items[1].look == ItemLook::pause);
  CHECK(rows.rows[3].items.front().id == 51);
  CHECK(rows.whole.end() == at(150s));
}

TEST_CASE("a weak place shows its doubt and says so in words, a good one does not") {
  const StripRows rows = Sample{}.rows();
  const StripItem& good = rows.rows[1].items[0];
  const StripItem& weak = rows.rows[1].items[2];
  CHECK_FALSE(good.weak);
  CHECK(good.doubt == 0s);
  CHECK(weak.weak);
  CHECK(weak.doubt == 9s);
  CHECK(weak.about.find("in doubt") != std::string::npos);
  CHECK(weak.look == ItemLook::by_clock);
}

TEST_CASE("a span tells what was set in it") {
  const std::string about = Sample{}.rows().rows[2].items[0].about;
  for (const char* part : {"Rivet the skin", "MS20426AD3-4 x 72 squeezed", "2 of them drilled out"}) {
    CHECK(about.find(part) != std::string::npos);
  }
}

TEST_CASE("a dropout says how long and from when to when the camera was off") {
  const StripItem off = Sample{}.rows().rows[1].items[1];
  CHECK(off.label.find("30 s") != std::string::npos);
  CHECK(off.about.find("0:01:00") != std::string::npos);
  CHECK(off.about.find("0:01:30") != std::string::npos);
}

TEST_CASE("a session without anything is empty but can be drawn") {
  const StripRows rows = rows_of({}, {}, {});
  CHECK(rows.empty);
  CHECK(rows.whole.length() > 0s);
}

TEST_CASE("the same task always has the same tone, and no task one too") {
  CHECK(tone_of(journal::TaskId{7}) == tone_of(journal::TaskId{7}));
  for (std::int64_t id : {0, 1, 99, -3}) CHECK(tone_of(journal::TaskId{id}) < work_tones);
  CHECK(tone_of(std::nullopt) == 0);
}
