#include "actions/describe.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::actions;
using namespace std::chrono_literals;

namespace {

std::string dropout(Length lost, Length at, Length loose) {
  return describe({.kind = sync::Note::Kind::dropout, .clip_at = ClipTime{at}, .length = lost, .loose = loose}, {},
                  0ns);
}

std::vector<journal::Clip> clips_named(const std::vector<std::string>& names) {
  std::vector<journal::Clip> clips;
  for (const std::string& name : names) {
    journal::Part part;
    part.path = "/card/" + name;
    clips.emplace_back().parts.push_back(part);
  }
  return clips;
}

}  // namespace

TEST_CASE("a loss is told with its moment, or with the moments between which it lies") {
  CHECK(dropout(1500ms, 90s, 0s) == "1.50 s are missing at 0:01:30.000 into the clip.");
  CHECK(dropout(4s, 272s, 88s) ==
        "4.00 s are missing somewhere between 0:03:04.000 and 0:06:00.000 into the clip: nothing was heard in between "
        "that "
        "tells where, so that stretch may be off by as much.");
  CHECK(dropout(-2s, 90s, 0s) == "2.00 s were recorded twice at 0:01:30.000 into the clip.");
}

TEST_CASE("a loss where two parts meet that nobody heard is told as what it is taken from") {
  sync::Note note{.kind = sync::Note::Kind::dropout, .clip_at = ClipTime{206800ms}, .length = 270ms};
  note.supposed = sync::Note::Supposed::joins;
  CHECK(
      describe(note, clips_named({"left.mp4"}), 0s) ==
      "0.27 s are missing at 0:03:26.800 into the clip, where two of its parts meet: no other clip tells, but as much "
      "is missing where others of its parts meet.");
}

TEST_CASE("a loss that only the places of other clips tell is told as perhaps, with these clips") {
  const auto clips = clips_named({"left.mp4", "right1.mp4", "right2.mp4"});
  sync::Note note{.kind = sync::Note::Kind::dropout, .clip_at = ClipTime{60s}, .length = 1500ms, .loose = 20s};
  note.clash = 1;
  note.clash_2 = 2;
  note.supposed = sync::Note::Supposed::at_once;
  CHECK(describe(note, clips, 0s) ==
        "Perhaps 1.50 s or more are missing somewhere between 0:00:40.000 and 0:01:20.000 into the clip, where no "
        "other clip heard it: as they lie, one camera would have filmed right1.mp4 and right2.mp4 at once for so long. "
        "What lies on one side of it may be off by as much. Place a clip there by hand if you know better.");
  note.supposed = sync::Note::Supposed::clock;
  note.loose = 0s;
  CHECK(describe(note, clips, 0s) ==
        "Perhaps 1.50 s are missing at 0:01:00.000 into the clip, where no other clip heard it: by their camera's "
        "clock so much more passed between right1.mp4 and right2.mp4 than as they lie. Unless that clock was set in "
        "between, what lies on one side of it is off by as much. Place a clip there by hand if you know better.");
}

TEST_CASE("two places are told on the session clock, or beside the other clip where that has no place") {
  const auto clips = clips_named({"left.mp4", "right.mp4"});
  sync::Note note{.kind = sync::Note::Kind::two_places, .other = 1, .at = SessionTime{90s}, .at_2 = SessionTime{-3s}};
  CHECK(describe(note, clips, 10s) ==
        "Its sound fits equally well at 0:01:40.000 and at 0:00:07.000, so it was not placed by sound. Place it by "
        "hand where it belongs.");
  note.beside_other = true;
  CHECK(describe(note, clips, 10s) ==
        "Its sound fits equally well 0:01:30.000 after the beginning of right.mp4 and 0:00:03.000 before the beginning "
        "of right.mp4, so it was not placed by sound. Place it by hand where it belongs.");
}

TEST_CASE("why a clip cannot lie where its sound fits is told with the clips that speak against it") {
  const auto clips = clips_named({"left.mp4", "right.mp4", "right2.mp4"});
  const auto told = [&](sync::Impossible why) {
    return describe(
        {.kind = sync::Note::Kind::not_then, .other = 0, .at = SessionTime{90s}, .clash = 1, .clash_2 = 2, .why = why},
        clips, 0s);
  };
  for (const auto why : {sync::Impossible::at_once, sync::Impossible::order, sync::Impossible::two_clocks}) {
    const std::string text = told(why);
    CHECK(text.find("fits that of left.mp4, so that it would begin at 0:01:30.000. But then ") != std::string::npos);
    CHECK(text.find("right.mp4 and right2.mp4") != std::string::npos);
    CHECK(text.find("Place it by hand if it belongs there.") != std::string::npos);
  }
  CHECK(told(sync::Impossible::at_once) != told(sync::Impossible::order));
  CHECK(told(sync::Impossible::two_clocks) != told(sync::Impossible::order));
}

TEST_CASE("where a clip may lie that sound alone does not prove is told, and that nothing was done about it") {
  const auto clips = clips_named({"left.mp4", "right.mp4"});
  sync::Note note{.kind = sync::Note::Kind::perhaps_then, .other = 0, .at = SessionTime{90s}};
  const std::string text = describe(note, clips, 10s);
  CHECK(text.find("fits that of left.mp4, so that it would begin at 0:01:40.000. But ") != std::string::npos);
  CHECK(text.find("it was not placed by sound. Place it by hand if it belongs there.") != std::string::npos);
  note.beside_other = true;
  CHECK(describe(note, clips, 10s).find("0:01:30.000 after the beginning of left.mp4") != std::string::npos);
}

TEST_CASE("clips that only each other's sound holds are told together") {
  const auto clips = clips_named({"left.mp4", "right.mp4"});
  CHECK(describe({.kind = sync::Note::Kind::adrift, .other = 1}, clips, 0s) ==
        "It shares sound with right.mp4, but neither sound nor a clock tells where they lie in the session. Place one "
        "of them by hand: the other follows.");
}

TEST_CASE("a time by which a camera filmed two clips at once is told with the other clip") {
  const auto clips = clips_named({"left.mp4", "right.mp4"});
  CHECK(describe({.kind = sync::Note::Kind::clock_at_once, .other = 1}, clips, 0s) ==
        "By the times that its file and that of right.mp4 carry, one camera would have filmed both at once, so it was "
        "not placed by them. Place it by hand where it belongs.");
}

TEST_CASE("clips that part company are told where, and what to do") {
  const auto clips = clips_named({"left.mp4", "right.mp4"});
  sync::Note note{.kind = sync::Note::Kind::parts_company, .other = 1, .clip_at = ClipTime{150s}};
  const std::string rest =
      ", it and right.mp4 do not hear the same. If one of them was only carried away, all is well; if one stopped for "
      "a while, that part lies elsewhere: tie the two there by a moment that both show.";
  CHECK(describe(note, clips, 0s) == "From 0:02:30.000 of the clip on" + rest);
  note.before = true;
  CHECK(describe(note, clips, 0s) == "Up to 0:02:30.000 of the clip" + rest);
}
