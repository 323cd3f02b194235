#include "actions/photo_clock.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

const WallTime zero = std::chrono::sys_days{std::chrono::year{2026} / 3 / 14} + 9h;
const journal::Camera phone{{7}, "phone"};

Zone berlin() { return *Zone::find("Europe/Berlin"); }  // an hour ahead of UTC in March

/// A clip of the phone that begins at `at` and whose container says `told`.
void add_clip(journal::SessionRecord& record, SessionTime at, Length told_since_epoch, ClockKind kind,
              journal::Basis basis = journal::Basis::audio) {
  journal::Part part;
  part.length = 60s;
  part.clocks = {{kind == ClockKind::utc ? ClockSource::container : ClockSource::name, kind, ClockEdge::begin,
                  told_since_epoch, 1s, ""}};
  journal::Clip clip;
  clip.id = {static_cast<std::int64_t>(record.clips.size()) + 1};
  clip.camera = phone.id;
  clip.length = 60s;
  clip.parts = {part};
  journal::Placement placement{clip.id, basis, {}, {}, {}};
  const Length sigma = basis == journal::Basis::clock ? Length{20s} : Length{1ms};
  if (basis != journal::Basis::none) placement.pieces = {{ClipTime{}, ClipTime{60s}, at, 0, sigma}};
  record.placements.push_back(placement);
  record.clips.push_back(clip);
}

journal::SessionRecord session() {
  journal::SessionRecord record;
  record.session.zero = zero;
  return record;
}

Length since_epoch(SessionTime at) { return (zero + at.time_since_epoch()).time_since_epoch(); }

ClockReading stamp(ClockKind kind, Length since) {
  return {ClockSource::container, kind, ClockEdge::begin, since, 1s, ""};
}

bool near(SessionTime a, SessionTime b, Length within) { return std::chrono::abs(a - b) <= within; }

}  // namespace

TEST_CASE("a device whose clock is fast has its photos placed as much earlier") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) + 90s, ClockKind::utc);
  const auto moment =
      photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{20min}) + 90s), berlin());
  REQUIRE(moment);
  CHECK(near(moment->at, SessionTime{20min}, 500ms));
  CHECK(moment->sigma > 1s);
  CHECK(moment->sigma < 3s);
  CHECK(moment->note.empty());
}

TEST_CASE("local time in a photo is read in the build's zone and compared with names that are local too") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) + 1h + 5s, ClockKind::local);
  const auto moment =
      photo_moment(record, &phone, stamp(ClockKind::local, since_epoch(SessionTime{20min}) + 1h + 5s), berlin());
  REQUIRE(moment);
  CHECK(near(moment->at, SessionTime{20min}, 500ms));
  CHECK(moment->sigma < 3s);
  CHECK(moment->note.empty());
}

TEST_CASE(
    "films with local time in the UTC field do not shift photos by the zone, and the doubt says that they might") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) + 1h, ClockKind::utc);
  const auto moment =
      photo_moment(record, &phone, stamp(ClockKind::local, since_epoch(SessionTime{20min}) + 1h), berlin());
  REQUIRE(moment);
  CHECK(near(moment->at, SessionTime{20min}, 1s));
  CHECK(moment->sigma >= 1h);
  CHECK(moment->note.find("local time where universal time belongs") != std::string::npos);
}

TEST_CASE("a clock that was set anew between two clips counts as it was near the photo") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) - 24h * 70, ClockKind::utc);
  add_clip(record, SessionTime{60min}, since_epoch(SessionTime{60min}) + 4s, ClockKind::utc);
  const auto late = photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{70min}) + 4s), berlin());
  CHECK(near(late->at, SessionTime{70min}, 500ms));
  const auto early =
      photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{15min}) - 24h * 70), berlin());
  CHECK(near(early->at, SessionTime{15min}, 500ms));
}

TEST_CASE("the doubt grows with the time between clip and photo") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}), ClockKind::utc);
  const auto soon = photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{12min})), berlin());
  const auto days = photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{48h})), berlin());
  CHECK(days->sigma > soon->sigma + 5s);
}

TEST_CASE("a clip that lies where its clock says hands its doubt on to the photo") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) + 90s, ClockKind::utc, journal::Basis::clock);
  const auto moment =
      photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{20min}) + 90s), berlin());
  CHECK(near(moment->at, SessionTime{20min}, 500ms));
  CHECK(moment->sigma >= 20s);
}

TEST_CASE("a device that was not compared is taken as it stands, with a wide doubt and a note") {
  journal::SessionRecord record = session();
  add_clip(record, SessionTime{10min}, since_epoch(SessionTime{10min}) + 90s, ClockKind::utc, journal::Basis::none);
  for (const journal::Camera* camera : {&phone, static_cast<const journal::Camera*>(nullptr)}) {
    const auto moment =
        photo_moment(record, camera, stamp(ClockKind::local, since_epoch(SessionTime{20min}) + 1h), berlin());
    REQUIRE(moment);
    CHECK(near(moment->at, SessionTime{20min}, 1s));
    CHECK(moment->sigma >= 5min);
    CHECK_FALSE(moment->note.empty());
  }
}

TEST_CASE("without a date in the photo, or a time of day of the session, there is no moment") {
  journal::SessionRecord record = session();
  CHECK_FALSE(photo_moment(record, &phone, std::nullopt, berlin()));
  record.session.zero = std::nullopt;
  CHECK_FALSE(photo_moment(record, &phone, stamp(ClockKind::utc, since_epoch(SessionTime{})), berlin()));
}
