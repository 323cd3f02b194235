// Entries of journals from before ids stood in the sealed text.
#include <doctest/doctest.h>

#include <functional>

#include "journal/sample.h"
#include "journal/sealed_facts.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

struct Sealed {
  Build build = sample_build();
  Register known = sample_register();
  SessionRecord record = sample_record();
  Entry entry;

  Sealed() {
    entry.number = 1;
    entry.text = canonical_text(build, known, record, TextForm::first);
  }
  Comparison now() const { return compare(entry, build, known, record); }
};

bool holds(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("an unchanged session sealed in the first form fits, and nothing is told of it") {
  const Sealed sealed;
  REQUIRE(form_of(sealed.entry.text) == TextForm::first);
  CHECK(!sealed.now().fault);
  CHECK(sealed.now().renamed.empty());
}

TEST_CASE("renames and other settings after a seal in the first form are told as what they are") {
  struct Rename {
    std::function<void(Sealed&)> make;
    std::string told;
  };
  const std::vector<Rename> renames = {
      {[](Sealed& s) { s.known.people[0].name = "Anna"; }, "The person was sealed as \"Ana\" and is \"Anna\" now."},
      {[](Sealed& s) { s.known.people[1].role = Role::hired; }, "The role of Bo was sealed as helper"},
      {[](Sealed& s) { s.known.tasks[0].title = "Rivet skins"; }, "The task was sealed as \"Rivet the skin\""},
      {[](Sealed& s) { s.known.tasks[0].plan_sheet = "8"; }, "The plan sheet of the task \"Rivet the skin\""},
      {[](Sealed& s) { s.known.assemblies[1].name = "Elevator"; }, "The assembly of the task \"Rivet the skin\""},
      {[](Sealed& s) { s.known.cameras[1].name = "above"; }, "The camera was sealed as \"overhead\""},
      {[](Sealed& s) { s.build.name = "Other"; }, "The build's name was sealed as"},
      {[](Sealed& s) { s.build.rounding = Rounding::minute; }, "The rounding was sealed as 0.1 h"},
  };
  for (const Rename& rename : renames) {
    CAPTURE(rename.told);
    Sealed sealed;
    rename.make(sealed);
    const Comparison now = sealed.now();
    CHECK(now.fault.value_or("") == "");
    REQUIRE(now.renamed.size() == 1);
    CHECK(holds(now.renamed[0], rename.told));
  }
}

TEST_CASE("two people who changed names, and everything renamed at once, are told one by one") {
  Sealed sealed;
  sealed.known.people[0].name = "Zora";
  sealed.known.people[1].name = "Bob";
  sealed.known.tasks[0].title = "Skin";
  sealed.known.cameras[0].name = "table";
  CHECK(!sealed.now().fault);
  CHECK(sealed.now().renamed.size() == 4);
}

TEST_CASE("files found again under other names, in another order, fit an entry of the first form") {
  Sealed sealed;
  sealed.record.clips[0].parts[0].path = "/disk/z9.mp4";
  std::swap(sealed.record.clips[0], sealed.record.clips[1]);
  CHECK(sealed.now().fault.value_or("") == "");
  CHECK(sealed.now().renamed.empty());
}

TEST_CASE("another person, task or camera in the sealed rows themselves stays a fault in the first form") {
  const std::vector<std::function<void(Sealed&)>> changes = {
      // Somebody else who is in the register too.
      [](Sealed& s) {
        s.record.spans[0].people[0] = {3}, s.known.people.push_back({{3}, "Cy", Role::builder});
      },
      [](Sealed& s) { s.record.spans[1].people[0] = {1}; },
      [](Sealed& s) { std::swap(s.record.spans[0].people[0], s.record.spans[0].people[1]); },
      [](Sealed& s) { s.record.spans[0].task = TaskId{2}; },
      [](Sealed& s) { s.record.clips[0].camera = {2}; },
      [](Sealed& s) { s.record.spans[0].note += "x"; },
      [](Sealed& s) { s.record.spans[0].end += 1ns; },
      [](Sealed& s) { ++s.record.spans[0].fasteners[0].set; },
      [](Sealed& s) { ++s.record.clips[0].parts[0].identity.digest[3]; },
      [](Sealed& s) { s.record.spans.pop_back(); },
  };
  for (std::size_t i = 0; i < changes.size(); ++i) {
    CAPTURE(i);
    Sealed sealed;
    changes[i](sealed);
    CHECK(sealed.now().fault);
  }
}
