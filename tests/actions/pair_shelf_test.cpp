#include "actions/pair_shelf.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "actions/cache.h"
#include "actions/whole_file.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;

namespace {

const std::vector<std::string> keys{"aaaa", "bbbb", ""};
using Bytes = std::vector<std::uint8_t>;

/// The cache in a folder of the test's own.
class OwnCache {
 public:
  OwnCache() { ::setenv("XDG_CACHE_HOME", folder_.path().c_str(), 1); }
  ~OwnCache() { ::unsetenv("XDG_CACHE_HOME"); }
  OwnCache(const OwnCache&) = delete;
  OwnCache& operator=(const OwnCache&) = delete;
  std::filesystem::path file() const { return folder_.path() / "jigtime" / "aaaa.pairs"; }

 private:
  test::TempFolder folder_;
};

void keep_one() {
  PairShelf shelf{keys};
  shelf.keep(0, 1, {1, 2, 3});
  shelf.save();
}

}  // namespace

TEST_CASE("what two clips said is there in the next line-up, wherever they stand in it") {
  const OwnCache cache;
  std::filesystem::create_directories(cache_folder());
  keep_one();
  PairShelf later{{"cccc", "bbbb", "aaaa"}};
  CHECK(later.recall(2, 1) == Bytes{1, 2, 3});
  CHECK(!later.recall(1, 2));
  CHECK(!later.recall(0, 1));
}

TEST_CASE("pairs of a clip that is not there any more are kept for its return") {
  const OwnCache cache;
  std::filesystem::create_directories(cache_folder());
  keep_one();
  PairShelf without{{"aaaa", "dddd"}};
  without.keep(0, 1, {9});
  without.save();
  PairShelf again{keys};
  CHECK(again.recall(0, 1) == Bytes{1, 2, 3});
}

TEST_CASE("a garbled file is as if it were not there, byte by byte, and is written anew") {
  const OwnCache cache;
  std::filesystem::create_directories(cache_folder());
  keep_one();
  const std::string whole = read_text(cache.file()).value();
  REQUIRE(whole.size() > 64);
  for (std::size_t i = 0; i <= whole.size(); ++i) {
    std::string garbled = whole;
    if (i < whole.size()) {
      garbled[i] = static_cast<char>(garbled[i] ^ 0x41);
    } else {
      garbled.resize(whole.size() / 2);
    }
    std::ofstream{cache.file(), std::ios::binary | std::ios::trunc} << garbled;
    CHECK(!PairShelf{keys}.recall(0, 1));
  }
  keep_one();
  CHECK(PairShelf{keys}.recall(0, 1) == Bytes{1, 2, 3});
}

TEST_CASE("where nothing can be kept the shelf is empty and nothing fails") {
  ::setenv("XDG_CACHE_HOME", "/proc/nowhere", 1);
  keep_one();
  CHECK(!PairShelf{keys}.recall(0, 1));
  ::unsetenv("XDG_CACHE_HOME");
}
