#include "handbook/source.h"

#include <doctest/doctest.h>

using namespace jigtime::handbook;

TEST_CASE("a source says how it was read unless it was read itself") {
  CHECK(to_text(Source{"FAA AC 43.13-1B, 4-57a", Seen::seen}) == "FAA AC 43.13-1B, 4-57a");
  CHECK(to_text(Source{"MIL-R-47196A", Seen::quoted}) == "MIL-R-47196A, as quoted elsewhere");
  CHECK(to_text(Source{"MIL-HDBK-5", Seen::memory}) == "MIL-HDBK-5, from memory, not checked against a document");
  CHECK(to_text(Source{}) == "from memory, not checked against a document");
}
