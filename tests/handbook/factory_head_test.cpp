#include "handbook/factory_head.h"

#include <doctest/doctest.h>

using namespace jigtime::handbook;

// NAS1921 Table I (scanned copy, seen) for 1/8 to 1/4; 3/32 is from memory.
TEST_CASE("the flush head's sizes are those of the table, and the row from memory says so") {
  const int rows[][3] = {{3, 179, 36}, {4, 225, 42}, {5, 286, 55}, {6, 353, 70}, {8, 476, 95}};
  CHECK(all_flush_heads().size() == 5);
  for (const auto& row : rows) {
    const FlushHead* head = find_flush_head(row[0]);
    REQUIRE(head != nullptr);
    CHECK(head->width_mil == row[1]);
    CHECK(head->height_mil == row[2]);
    CHECK((head->source.seen == Seen::memory) == (row[0] == 3));
  }
}

TEST_CASE("a size the table lacks has no head") {
  CHECK(find_flush_head(2) == nullptr);
  CHECK(find_flush_head(7) == nullptr);
  CHECK(find_flush_head(-1) == nullptr);
}
