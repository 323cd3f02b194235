#include "actions/whole_file.h"

#include <doctest/doctest.h>
#include <unistd.h>

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

TEST_CASE("a full disk is said to be full and the file stays as it was") {
  // /dev/full is Linux's own device that refuses every write with ENOSPC; a link makes it look like our neighbour file.
  const test::TempFolder folder;
  const fs::path target = folder / "a.txt";
  CHECK(write_whole(target, std::string_view{"before"}));
  fs::path beside = target;
  beside += ".part" + std::to_string(::getpid());
  fs::create_symlink("/dev/full", beside);
  const Done full = write_whole(target, std::string_view{"after"});
  REQUIRE_FALSE(full);
  CHECK(full.error().code() == Code::no_space);
  const auto bytes = read_whole(target);
  CHECK(std::string(bytes->begin(), bytes->end()) == "before");
}

TEST_CASE("a text that is not there is named, with what to do") {
  const test::TempFolder folder;
  const auto text = read_text(folder / "list.txt");
  REQUIRE(!text);
  CHECK(text.error().code() == Code::not_found);
  CHECK(text.error().message().find("list.txt\" cannot be read. Check the path") != std::string::npos);
}
