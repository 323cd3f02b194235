#include "journal/values.h"

#include <doctest/doctest.h>

#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

Register tree() {
  Register known;
  known.assemblies = {{{1}, std::nullopt, "Tail"},
                      {{2}, AssemblyId{1}, "Elevator, left"},
                      {{3}, AssemblyId{2}, "Tip"},
                      {{4}, std::nullopt, "Wing"},
                      {{5}, AssemblyId{4}, "Tip"}};
  return known;
}

}  // namespace

TEST_CASE("an assembly's path names every level from the top") {
  CHECK(tree().assembly_path(AssemblyId{3}) == "Tail / Elevator, left / Tip");
  CHECK(tree().assembly_path(AssemblyId{4}) == "Wing");
}

TEST_CASE("no assembly and an unknown one have an empty path") {
  CHECK(tree().assembly_path(std::nullopt).empty());
  CHECK(tree().assembly_path(AssemblyId{77}).empty());
}

TEST_CASE("a ring of parents ends the path instead of the program") {
  Register known;
  known.assemblies = {{{1}, AssemblyId{2}, "A"}, {{2}, AssemblyId{1}, "B"}};
  CHECK(known.assembly_path(AssemblyId{1}) == "B / A");
}

TEST_CASE("an assembly is found by its path, with or without blanks around the slash") {
  const Register known = tree();
  CHECK(known.assembly("Tail / Elevator, left / Tip") == known.assembly(AssemblyId{3}));
  CHECK(known.assembly("Tail/Elevator, left/Tip") == known.assembly(AssemblyId{3}));
  CHECK(known.assembly(" Wing ") == known.assembly(AssemblyId{4}));
}

TEST_CASE("an assembly is found by its name alone when only one has it") {
  const Register known = tree();
  CHECK(known.assembly("Elevator, left") == known.assembly(AssemblyId{2}));
  CHECK(known.assembly("Tip") == nullptr);
}

TEST_CASE("a path that is not there names no assembly") {
  const Register known = tree();
  for (const std::string path :
       {"", "/", "Tail / Tip", "Elevator, left / Tail", "tail", "Tail / Elevator, left / Tip / Tip"}) {
    CAPTURE(path);
    CHECK(known.assembly(path) == nullptr);
  }
}

TEST_CASE("people, tasks and cameras are found by id and by name") {
  const Register known = sample_register();
  CHECK(known.person("Bo") == known.person(PersonId{2}));
  CHECK(known.task("Dimple ribs") == known.task(TaskId{2}));
  CHECK(known.camera("overhead") == known.camera(CameraId{2}));
}

TEST_CASE("an unknown person, task or camera is nothing") {
  const Register known = sample_register();
  CHECK(known.person("bo") == nullptr);
  CHECK(known.person(PersonId{0}) == nullptr);
  CHECK(known.task("") == nullptr);
  CHECK(known.task(TaskId{-1}) == nullptr);
  CHECK(known.camera("Bench") == nullptr);
  CHECK(known.camera(CameraId{3}) == nullptr);
}

TEST_CASE("a record finds its clips and their placements") {
  const SessionRecord record = sample_record();
  CHECK(record.clip({2}) == &record.clips[1]);
  CHECK(record.placement({2}) == &record.placements[1]);
  CHECK(record.clip({3}) == nullptr);
  CHECK(record.placement({3}) == nullptr);
}

TEST_CASE("a clip is called by its first part's file name") {
  CHECK(sample_clip(1, {1}).name() == "a1.mp4");
  CHECK(Clip{}.name().empty());
}

TEST_CASE("every role is read back from its word") {
  for (const Role role : {Role::builder, Role::helper, Role::hired, Role::supplier}) {
    CHECK(parse_role(to_text(role)) == role);
  }
}

TEST_CASE("an unknown word is no role") {
  for (const char* word : {"", "Builder", "builder ", "boss"}) CHECK(!parse_role(word).has_value());
}

TEST_CASE("a pause is called a break in front of people") {
  CHECK(to_text(SpanKind::pause) == "break");
  CHECK(to_text(ProposalKind::pause) == "break");
}
