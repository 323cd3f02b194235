#include "app/view/named.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;

namespace {

journal::Register known() {
  journal::Register all;
  all.people = {{journal::PersonId{1}, "M. Lind", journal::Role::helper, {true, {}}},
                {journal::PersonId{2}, "Mara Lind", journal::Role::builder},
                {journal::PersonId{3}, "Marra", journal::Role::builder, {false, journal::PersonId{2}}}};
  all.assemblies = {{journal::AssemblyId{1}, std::nullopt, "Tail"},
                    {journal::AssemblyId{2}, journal::AssemblyId{1}, "Elevator, left"},
                    {journal::AssemblyId{3}, journal::AssemblyId{1}, "Rudder"}};
  all.tasks = {{journal::TaskId{1}, "Prime", journal::AssemblyId{2}, "", ""}};
  return all;
}

}  // namespace

TEST_CASE("names are listed with what stands beside them, what is put away last, what was merged never") {
  const auto people = named_lines(known(), actions::Shelved::person);
  REQUIRE(people.size() == 2);
  CHECK((people[0].name == "Mara Lind" && people[0].beside == "builder" && !people[0].away));
  CHECK((people[1].name == "M. Lind" && people[1].away));
  CHECK(named_lines(known(), actions::Shelved::task).front().beside == "Tail / Elevator, left");
  const auto assemblies = named_lines(known(), actions::Shelved::assembly);
  CHECK((assemblies[1].name == "Tail / Elevator, left" && assemblies[1].last == "Elevator, left"));
}

TEST_CASE("a new name renames, a name that another one has makes both the same, and anything else nothing") {
  const auto assemblies = named_lines(known(), actions::Shelved::assembly);
  const Renaming fresh = renaming(assemblies, assemblies[1], "  Elevator, right ");
  CHECK((fresh.means == Renaming::Means::rename && fresh.to == "Elevator, right"));
  const Renaming same = renaming(assemblies, assemblies[1], "Rudder");
  CHECK((same.means == Renaming::Means::merge && same.to == "Tail / Rudder"));
  CHECK(renaming(assemblies, assemblies[1], "Tail").means == Renaming::Means::rename);
  for (const char* typed : {"", "   ", "Elevator, left"}) {
    CHECK(renaming(assemblies, assemblies[1], typed).means == Renaming::Means::nothing);
  }
}
