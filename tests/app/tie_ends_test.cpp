#include "app/view/tie_ends.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

journal::Clip clip(std::int64_t id, const std::string& file) {
  journal::Clip made;
  made.id = journal::ClipId{id};
  made.camera = journal::CameraId{id};
  made.length = 100s;
  made.parts.resize(2);
  made.parts[0].path = "/card/" + file + "1.mp4";
  made.parts[0].length = 60s;
  made.parts[1].path = "/card/" + file + "2.mp4";
  made.parts[1].clip_from = ClipTime{60s};
  made.parts[1].length = 40s;
  return made;
}

/// The first clip lost ten seconds in its middle; the second has no place.
journal::SessionRecord two_clips() {
  journal::SessionRecord record;
  record.clips = {clip(1, "a"), clip(2, "b")};
  journal::Placement placement;
  placement.clip = journal::ClipId{1};
  placement.pieces = {{ClipTime{}, ClipTime{50s}, SessionTime{20s}, 0, Length{0}},
                      {ClipTime{50s}, ClipTime{100s}, SessionTime{80s}, 0, Length{0}}};
  record.placements = {placement};
  record.ties = {{journal::TieId{7}, journal::ClipId{1}, ClipTime{65s}, journal::ClipId{2}, ClipTime{500ms}}};
  return record;
}

}  // namespace

TEST_CASE("a moment on show is told by the file that holds it, counted from that file's own first picture") {
  const auto record = two_clips();
  const auto first = tie_end(record, 1, SessionTime{30s});
  REQUIRE(first);
  CHECK((first->moment.file_name == "a1.mp4" && first->moment.at == 10s && first->camera == 1));
  const auto second = tie_end(record, 1, SessionTime{95s});
  REQUIRE(second);
  CHECK((second->moment.file_name == "a2.mp4" && second->moment.at == 5s));
}

TEST_CASE("where the clip lost time, before and behind it, and for one without a place there is no moment") {
  const auto record = two_clips();
  for (const Length t : {Length{0s}, Length{75s}, Length{130s}}) CHECK_FALSE(tie_end(record, 1, SessionTime{t}));
  CHECK_FALSE(tie_end(record, 2, SessionTime{30s}));
  CHECK_FALSE(tie_end(record, 99, SessionTime{30s}));
}

TEST_CASE("a clip's ties name both files and their own times") {
  const auto lines = ties_of(two_clips(), 2);
  REQUIRE(lines.size() == 1);
  CHECK((lines[0].id.value == 7 && lines[0].a == "a2.mp4 at 0:00:05.000" && lines[0].b == "b1.mp4 at 0:00:00.500"));
  CHECK(ties_of(two_clips(), 3).empty());
}
