#include "app/view/moments.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length t) { return SessionTime{t}; }

StripItem item(ItemKind kind, ItemLook look, std::int64_t id, Length begin, Length end) {
  StripItem one;
  one.kind = kind;
  one.look = look;
  one.id = id;
  one.range = *SessionRange::make(at(begin), at(end));
  return one;
}

StripRows rows() {
  StripRow camera;
  camera.kind = RowKind::camera;
  camera.name = "bench";
  camera.items = {item(ItemKind::clip, ItemLook::by_sound, 1, 10s, 60s),
                  item(ItemKind::dropout, ItemLook::dropout, 1, 60s, 90s),
                  item(ItemKind::clip, ItemLook::by_sound, 2, 90s, 200s)};
  StripRow heard;
  heard.kind = RowKind::heard;
  heard.items = {item(ItemKind::proposal, ItemLook::quiet, 1, 20s, 30s),
                 item(ItemKind::proposal, ItemLook::riveting, 2, 100s, 120s)};
  StripRow person;
  person.kind = RowKind::person;
  person.items = {item(ItemKind::span, ItemLook::work, 1, 15s, 30s),
                  item(ItemKind::span, ItemLook::pause, 2, 30s, 50s)};
  StripRows all;
  all.rows = {camera, heard, person};
  return all;
}

}  // namespace

TEST_CASE("jumping goes to the begin of the next one of that kind, and back to the one before") {
  CHECK(next_moment(rows(), JumpTo::span, Direction::forward, at(0s)) == at(15s));
  CHECK(next_moment(rows(), JumpTo::span, Direction::forward, at(15s)) == at(30s));
  CHECK(next_moment(rows(), JumpTo::span, Direction::back, at(30s)) == at(15s));
  CHECK(next_moment(rows(), JumpTo::dropout, Direction::forward, at(0s)) == at(60s));
}

TEST_CASE("riveting is jumped to, other things that were heard are not") {
  CHECK(next_moment(rows(), JumpTo::riveting, Direction::forward, at(0s)) == at(100s));
}

TEST_CASE("where there is no next one there is no jump") {
  CHECK_FALSE(next_moment(rows(), JumpTo::span, Direction::forward, at(30s)));
  CHECK_FALSE(next_moment(rows(), JumpTo::mark, Direction::forward, at(0s)));
  CHECK_FALSE(next_moment({}, JumpTo::span, Direction::back, at(0s)));
}

TEST_CASE("a camera that runs says which clip, one that was off says since and until when") {
  CHECK(cameras_at(rows(), at(10s)).front().clip == journal::ClipId{1});
  const CameraNow off = cameras_at(rows(), at(60s)).front();
  CHECK_FALSE(off.clip);
  CHECK(off.off_since == at(60s));
  CHECK(off.off_until == at(90s));
}

TEST_CASE("before its first and behind its last clip a camera has only one side to tell") {
  CHECK_FALSE(cameras_at(rows(), at(5s)).front().off_since);
  CHECK(cameras_at(rows(), at(5s)).front().off_until == at(10s));
  CHECK(cameras_at(rows(), at(200s)).front().off_since == at(200s));
  CHECK_FALSE(cameras_at(rows(), at(200s)).front().off_until);
}
