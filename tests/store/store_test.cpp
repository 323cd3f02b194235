#include "store/store.h"

#include <doctest/doctest.h>

#include "store/filled.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Store;

namespace {

/// The sample as the journal gives it back: parts are numbered in the order they were added.
SessionRecord expected_record() {
  SessionRecord record = sample_record();
  std::int64_t id = 0;
  for (Clip& clip : record.clips) {
    for (Part& part : clip.parts) part.id = {++id};
  }
  return record;
}

}  // namespace

TEST_CASE("every value of a record comes back as it was written") {
  const Store store = filled_store();
  CHECK(must(store.build()) == sample_build());
  CHECK(must(store.known()) == sample_register());
  const SessionRecord record = record_of(store);
  const SessionRecord expected = expected_record();
  CHECK(record.session == expected.session);
  CHECK(record.clips == expected.clips);
  CHECK(record.unreadable == expected.unreadable);
  CHECK(record.placements == expected.placements);
  CHECK(record.clocks == expected.clocks);
  CHECK(record.spans == expected.spans);
  CHECK(record.marks == expected.marks);
  CHECK(record.proposals == expected.proposals);
  CHECK(!record.entry.has_value());
  CHECK(must(store.integrity()).empty());
}

TEST_CASE("a journal on disk is the same after it was closed and opened") {
  const TempFolder folder;
  {
    Store store = must(Store::create(folder / "a.jigtime", sample_build()));
    fill(store);
  }
  const Store store = must(Store::open(folder / "a.jigtime"));
  CHECK(record_of(store) == expected_record());
  CHECK(must(store.known()) == sample_register());
  CHECK(must(store.integrity()).empty());
}
