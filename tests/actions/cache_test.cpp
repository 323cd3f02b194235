#include "actions/cache.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <string_view>

#include "actions/whole_file.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;
namespace fs = std::filesystem;

TEST_CASE("trimming takes the oldest of our own files and leaves everything else") {
  const test::TempFolder folder;
  ::setenv("XDG_CACHE_HOME", folder.path().c_str(), 1);
  fs::create_directories(cache_folder());
  const auto now = fs::file_time_type::clock::now();
  int age = 3;
  for (const char* name : {"old.sound", "middle.sound", "new.sound"}) {
    std::ofstream{cache_folder() / name} << std::string(1000, 'x');
    fs::last_write_time(cache_folder() / name, now - std::chrono::hours{age--});
  }
  std::ofstream{cache_folder() / "notes.txt"} << std::string(5000, 'x');
  fs::last_write_time(cache_folder() / "notes.txt", now - std::chrono::hours{99});
  trim_cache(2000);
  CHECK_FALSE(fs::exists(cache_folder() / "old.sound"));
  CHECK(fs::exists(cache_folder() / "middle.sound"));
  CHECK(fs::exists(cache_folder() / "new.sound"));
  CHECK(fs::exists(cache_folder() / "notes.txt"));
  ::unsetenv("XDG_CACHE_HOME");
}
