#include <doctest/doctest.h>

#include <fstream>

#include "store/canonical.h"
#include "store/filled.h"
#include "store/journal_file.h"
#include "store/refusal.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;
using store::Edit;
using store::Store;

namespace {

struct Fixture : JournalFile {
  std::filesystem::path copy = folder / "copy.jigtime";
};

}  // namespace

TEST_CASE_FIXTURE(Fixture, "a copy of an open journal holds everything, its history too") {
  fill(store);
  must(store.back_up(copy));
  CHECK(canonical_dump(copy) == canonical_dump(path));
  Store copied = must(Store::open(copy));
  CHECK(must(copied.integrity()).empty());
  must(copied.undo());
  CHECK(must(store.sessions()).size() == 1);
}

TEST_CASE_FIXTURE(Fixture, "a copy made while another program is writing holds the state before") {
  fill(store);
  const std::string before = canonical_dump(path);
  Raw writer{path};
  writer.must("BEGIN IMMEDIATE");
  writer.must("DELETE FROM mark");
  must(store.back_up(copy));
  CHECK(canonical_dump(copy) == before);
  writer.must("COMMIT");
  CHECK(canonical_dump(copy) == before);
}

TEST_CASE_FIXTURE(Fixture, "a copy is never written over a file that is there") {
  std::ofstream{copy} << "mine";
  CHECK(holds(refusal(store.back_up(copy)), "invalid: "));
  CHECK(std::filesystem::file_size(copy) == 4);
  CHECK(holds(refusal(store.back_up(path)), "invalid: "));
  CHECK(must(store.integrity()).empty());
}

TEST_CASE_FIXTURE(Fixture, "a copy into a folder that is not there is told, and leaves nothing") {
  CHECK(holds(refusal(store.back_up(folder / "no" / "copy.jigtime")), "not found: "));
  CHECK(holds(refusal(store.back_up("")), "invalid: "));
  CHECK(!std::filesystem::exists(copy));
}
