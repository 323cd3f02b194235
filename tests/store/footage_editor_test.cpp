#include <doctest/doctest.h>

#include "store/filled.h"
#include "store/refusal.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

Clip first_clip(const Store& store) { return record_of(store).clips.at(0); }

template <class Value>
std::string updated(Store& store, const Value& value) {
  return refusal(edited(store, [&](Edit& edit) { return edit.update(value); }));
}

}  // namespace

TEST_CASE("a file name of any bytes comes back as it was") {
  Store store = filled_store();
  const std::string path = "/cards/caf\xE9/\x01\xFF;'\"\n.mp4";
  must(edited(store, [&](Edit& edit) { return edit.relink(journal::PartId{1}, path); }));
  CHECK(first_clip(store).parts[0].path.native() == path);
  must(edited(store, [&](Edit& edit) { return edit.add(Unreadable{{1}, {1}, path, "bad \xFF bytes"}); }));
  bool found = false;
  for (const Unreadable& file : record_of(store).unreadable) {
    if (file.path.native() != path) continue;
    found = true;
    CHECK(file.why == "bad \xEF\xBF\xBD bytes");
  }
  CHECK(found);
}

TEST_CASE("extreme but legal numbers come back as they were") {
  Store store = filled_store();
  Clip clip = sample_clip(0, {2});
  clip.parts.resize(1);
  clip.parts[0].identity.size_bytes = 0xFFFF'FFFF'FFFF'FFFFULL;
  clip.parts[0].clocks[0].since_epoch = Length::min();
  clip.parts[0].clocks[0].resolution = Length::max();
  clip.length = farthest;
  clip.sound = std::nullopt;
  clip.notes.clear();
  clip.id = must(edited(store, [&](Edit& edit) { return edit.add(clip); }));
  Placement placement{
      clip.id, Basis::manual, {{ClipTime{}, ClipTime{farthest}, at(-farthest), -1'000'000, farthest}}, {}, {}};
  must(edited(store, [&](Edit& edit) { return edit.set_placement(placement); }));
  const SessionRecord record = record_of(store);
  clip.parts[0].id = record.clip(clip.id)->parts[0].id;
  CHECK(*record.clip(clip.id) == clip);
  CHECK(*record.placement(clip.id) == placement);
}

TEST_CASE("a part is added behind the others and the placement stays") {
  Store store = filled_store();
  Clip clip = first_clip(store);
  Part third = sample_part(0, "a3.mp4");
  third.clip_from = ClipTime{1h};
  third.identity.digest.fill(99);
  clip.parts.push_back(third);
  clip.length = 90min;
  clip.notes = {"Now with a third part."};
  CHECK(updated(store, clip) == "done");
  const SessionRecord record = record_of(store);
  const Clip& now = *record.clip(clip.id);
  REQUIRE(now.parts.size() == 3);
  clip.parts[2].id = now.parts[2].id;
  CHECK(now == clip);
  CHECK(*record.placement(clip.id) == sample_placement({1}, {2}));
}

TEST_CASE("a clip keeps its parts, its session and its placement") {
  Store store = filled_store();
  const Clip before = first_clip(store);
  Clip clip = before;
  clip.parts.pop_back();
  CHECK(holds(updated(store, clip), "invalid: The clip would lose its part \"a2.mp4\""));
  clip = before;
  clip.parts[1].identity.digest[0] ^= 1U;
  CHECK(holds(updated(store, clip), "invalid: The clip would lose"));
  clip = before;
  clip.parts.push_back(record_of(store).clips[1].parts[1]);
  CHECK(holds(updated(store, clip), "invalid: A part of another clip"));
  clip = before;
  clip.session = {2};
  CHECK(holds(updated(store, clip), "invalid: A clip stays in its session"));
  clip = before;
  clip.camera = {9};
  CHECK(holds(updated(store, clip), "not found: The camera"));
  clip = before;
  clip.length = 59min;
  CHECK(holds(updated(store, clip), "invalid: Piece 2 of the placement of a1.mp4 reaches beyond"));
  clip = before;
  clip.id = {9};
  CHECK(holds(updated(store, clip), "not found: "));
  CHECK(first_clip(store) == before);
}

TEST_CASE("a clip without ground is refused whole") {
  Store store = filled_store();
  const auto add = [&](Clip clip) { return refusal(edited(store, [&](Edit& edit) { return edit.add(clip); })); };
  Clip clip = sample_clip(0, {9});
  CHECK(holds(add(clip), "not found: The camera"));
  clip.camera = {1};
  clip.session = {9};
  CHECK(holds(add(clip), "not found: The session"));
  clip.parts.clear();
  CHECK(holds(add(clip), "invalid: "));
  CHECK(record_of(store).clips.size() == 2);
}

TEST_CASE("removing a clip takes its placement and others' evidence of it, and nothing else") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.remove(ClipId{1}); }));
  const SessionRecord record = record_of(store);
  REQUIRE(record.clips.size() == 1);
  REQUIRE(record.placements.size() == 1);
  CHECK(record.placements[0].clip == ClipId{2});
  CHECK(record.placements[0].evidence.empty());
  CHECK(record.spans == sample_record().spans);
  CHECK(must(store.integrity()).empty());
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.remove(ClipId{1}); })), "not found: "));
}

TEST_CASE("a file is found by its identity, wherever it lies") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.relink(journal::PartId{2}, "/elsewhere/b.mp4"); }));
  Part wanted = sample_part(11, "a2.mp4");
  const auto part = must(store.part(wanted.identity));
  REQUIRE(part.has_value());
  CHECK(part->id == PartId{2});
  CHECK(part->path == "/elsewhere/b.mp4");
  CHECK(part->clocks == wanted.clocks);
  ++wanted.identity.size_bytes;
  CHECK(!must(store.part(wanted.identity)).has_value());
}

TEST_CASE("a part that is not there and an empty path are not linked") {
  Store store = filled_store();
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.relink(journal::PartId{99}, "/a.mp4"); })),
              "not found: "));
  CHECK(holds(refusal(edited(store, [](Edit& edit) { return edit.relink(journal::PartId{1}, ""); })), "invalid: "));
}

TEST_CASE("an unreadable file is listed once, with the newest reason") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.add(Unreadable{{1}, {1}, "/cards/two/c3.mp4", "Empty."}); }));
  REQUIRE(record_of(store).unreadable.size() == 1);
  CHECK(record_of(store).unreadable[0] == Unreadable{{1}, {1}, "/cards/two/c3.mp4", "Empty."});
  for (int time = 0; time < 2; ++time) {
    must(edited(store, [](Edit& edit) { return edit.remove_unreadable({1}, "/cards/two/c3.mp4"); }));
    CHECK(record_of(store).unreadable.empty());
  }
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.add(Unreadable{{9}, {1}, "/a", ""}); })), "not found: "));
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.add(Unreadable{{1}, {9}, "/a", ""}); })), "not found: "));
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.add(Unreadable{{1}, {1}, "", ""}); })), "invalid: "));
}

TEST_CASE("a placement is replaced whole, or not at all") {
  Store store = filled_store();
  const Placement none{{1}, Basis::none, {}, {}, {"Nothing in common with the others."}};
  must(edited(store, [&](Edit& edit) { return edit.set_placement(none); }));
  CHECK(*record_of(store).placement({1}) == none);
  Placement bad = sample_placement({1}, {9});
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.set_placement(bad); })), "not found: "));
  bad = sample_placement({9}, {1});
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.set_placement(bad); })), "not found: "));
  bad = sample_placement({1}, {2});
  bad.pieces[1].clip_to += 1ns;
  CHECK(holds(refusal(edited(store, [&](Edit& edit) { return edit.set_placement(bad); })), "invalid: "));
  CHECK(*record_of(store).placement({1}) == none);
}

TEST_CASE("a camera's clock is replaced") {
  Store store = filled_store();
  const CameraClock clock{{1}, {2}, -7200s, 12, false};
  must(edited(store, [&](Edit& edit) { return edit.set_clock(clock); }));
  REQUIRE(record_of(store).clocks.size() == 2);
  CHECK(record_of(store).clocks[1] == clock);
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.set_clock({{9}, {1}, {}, 0, true}); })), "not found: "));
  CHECK(holds(refusal(edited(store, [](Edit& e) { return e.set_clock({{1}, {9}, {}, 0, true}); })), "not found: "));
}

TEST_CASE("clips are ordered by camera, then by their first part") {
  Store store = filled_store();
  Clip clip = sample_clip(0, {1});
  clip.parts.resize(1);
  clip.parts[0].path = "/cards/one/a0.mp4";
  const ClipId added = must(edited(store, [&](Edit& edit) { return edit.add(clip); }));
  const SessionRecord record = record_of(store);
  REQUIRE(record.clips.size() == 3);
  CHECK(record.clips[0].id == added);
  CHECK(record.clips[1].id == ClipId{1});
  CHECK(record.clips[2].id == ClipId{2});
}
