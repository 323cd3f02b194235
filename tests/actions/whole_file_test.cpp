#include "actions/whole_file.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <fstream>
#include <string_view>

#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;
namespace fs = std::filesystem;

TEST_CASE("a file is written whole and nothing is left beside it") {
  const test::TempFolder folder;
  CHECK(write_whole(folder / "a.txt", std::string_view{"one"}));
  CHECK(write_whole(folder / "a.txt", std::string_view{"two"}));
  const auto bytes = read_whole(folder / "a.txt");
  REQUIRE(bytes);
  CHECK(std::string(bytes->begin(), bytes->end()) == "two");
  CHECK(std::distance(fs::directory_iterator{folder.path()}, fs::directory_iterator{}) == 1);
}

TEST_CASE("writing where there is no folder, or onto a folder, fails and says what to do") {
  const test::TempFolder folder;
  const Done missing = write_whole(folder / "no/such/a.txt", std::string_view{"one"});
  REQUIRE_FALSE(missing);
  CHECK(missing.error().code() == Code::not_found);
  fs::create_directory(folder / "taken");
  CHECK_FALSE(write_whole(folder / "taken", std::string_view{"one"}));
  CHECK(std::distance(fs::directory_iterator{folder.path()}, fs::directory_iterator{}) == 1);
}

// The command line's tests fill a whole file system; here the system refuses every byte of ours, as setrlimit(2) tells.
TEST_CASE("a file that may not grow is said to lack room, stays as it was and leaves nothing beside it") {
  const test::TempFolder folder;
  const fs::path target = folder / "a.txt";
  CHECK(write_whole(target, std::string_view{"before"}));
  rlimit before{};
  getrlimit(RLIMIT_FSIZE, &before);
  const rlimit nothing{0, before.rlim_max};
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  setrlimit(RLIMIT_FSIZE, &nothing);
  const Done full = write_whole(target, std::string_view{"after"});
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  REQUIRE_FALSE(full);
  CHECK(full.error().code() == Code::no_space);
  const auto bytes = read_whole(target);
  CHECK(std::string(bytes->begin(), bytes->end()) == "before");
  CHECK(std::distance(fs::directory_iterator{folder.path()}, fs::directory_iterator{}) == 1);
}

TEST_CASE("a file being written shows nothing in its place until it takes it, and goes when it never does") {
  const test::TempFolder folder;
  {
    auto file = PartFile::begin(folder / "a.txt");
    REQUIRE(file);
    CHECK(file->write("one"));
    auto second = PartFile::begin(folder / "a.txt");
    REQUIRE(second);
    CHECK(second->write("two"));
    CHECK(second->finish());
    CHECK_FALSE(fs::exists(folder / "a.txt"));
    CHECK(second->take_place());
  }
  CHECK(*read_text(folder / "a.txt") == "two");
  CHECK(std::distance(fs::directory_iterator{folder.path()}, fs::directory_iterator{}) == 1);
}

TEST_CASE("a text that is not there is named, with what to do") {
  const test::TempFolder folder;
  const auto text = read_text(folder / "list.txt");
  REQUIRE(!text);
  CHECK(text.error().code() == Code::not_found);
  CHECK(text.error().message().find("list.txt\" cannot be read. Check the path") != std::string::npos);
}

TEST_CASE("what is read as text is a plain file: no folder, no pipe that nobody writes to, no device that never ends") {
  const test::TempFolder folder;
  const fs::path pipe = folder / "pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  CHECK(read_text(pipe).error().message().find("is no plain file") != std::string::npos);
  CHECK(read_text("/dev/zero").error().message().find("is no plain file") != std::string::npos);
  CHECK(read_text(folder.path()).error().message().find("is a folder") != std::string::npos);
  const fs::path large = folder / "film.mp4";
  std::ofstream{large};
  fs::resize_file(large, 300'000'000);  // a hole: it takes no room
  CHECK(read_text(large).error().message().find("larger than any text") != std::string::npos);
}

TEST_CASE("a file written anew keeps its permissions") {
  const test::TempFolder folder;
  const fs::path file = folder / "a.txt";
  REQUIRE(write_whole(file, std::string_view{"one"}));
  fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
  REQUIRE(write_whole(file, std::string_view{"two"}));
  CHECK(fs::status(file).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}
