// A sample journal in a folder of its own.
#pragma once

#include <filesystem>

#include "store/filled.h"
#include "store/store.h"
#include "support/temp_folder.h"

namespace jigtime::test {

struct JournalFile {
  TempFolder folder;
  std::filesystem::path path = folder / "a.jigtime";
  store::Store store = must(store::Store::create(path, sample_build()));
};

}  // namespace jigtime::test
