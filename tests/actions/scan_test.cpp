#include "actions/scan.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>

#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;
namespace fs = std::filesystem;

namespace {

void touch(const fs::path& path) {
  fs::create_directories(path.parent_path());
  std::ofstream{path} << "x";
}

std::vector<std::string> names(const Scan& scan) {
  std::vector<std::string> result;
  for (const fs::path& path : scan.files) result.push_back(path.filename().string());
  return result;
}

}  // namespace

TEST_CASE("folders are walked to any depth, in the order a person counts") {
  const test::TempFolder folder;
  touch(folder / "DCIM/101/c10.mp4");
  touch(folder / "DCIM/101/c2.mp4");
  touch(folder / "DCIM/99/c1.mp4");
  CHECK(names(*scan(folder.path())) == std::vector<std::string>{"c1.mp4", "c2.mp4", "c10.mp4"});
}

TEST_CASE("hidden files and folders are left out") {
  const test::TempFolder folder;
  touch(folder / "._c1.mp4");
  touch(folder / ".trash/c2.mp4");
  touch(folder / "c3.mp4");
  CHECK(names(*scan(folder.path())) == std::vector<std::string>{"c3.mp4"});
}

TEST_CASE("a link that leads back into the folder is no endless walk") {
  const test::TempFolder folder;
  touch(folder / "a/c1.mp4");
  fs::create_directory_symlink(folder.path(), folder / "a/again");
  CHECK(scan(folder.path())->files.size() == 1);
}

TEST_CASE("a path that does not exist is said to be missing") {
  const auto found = scan("/no/such/card");
  REQUIRE_FALSE(found);
  CHECK(found.error().code() == Code::not_found);
  CHECK(found.error().message().find("/no/such/card") != std::string::npos);
}

TEST_CASE("a single file stands for itself and an empty folder has no files") {
  const test::TempFolder folder;
  CHECK(scan(folder.path())->files.empty());
  touch(folder / "only.mp4");
  CHECK(names(*scan(folder / "only.mp4")) == std::vector<std::string>{"only.mp4"});
}

TEST_CASE("a folder that may not be read is named and the others are walked") {
  if (::geteuid() == 0) {
    MESSAGE("run as root, who may read everything: only the walk itself is checked");
  }
  const test::TempFolder folder;
  touch(folder / "open/c1.mp4");
  touch(folder / "shut/c2.mp4");
  fs::permissions(folder / "shut", fs::perms::none);
  const auto found = scan(folder.path());
  fs::permissions(folder / "shut", fs::perms::owner_all);
  REQUIRE(found);
  CHECK(found->files.front().filename() == "c1.mp4");
  if (::geteuid() != 0) {
    REQUIRE(found->refused.size() == 1);
    CHECK(found->refused.front().why.find("permission") != std::string::npos);
  }
}

TEST_CASE("natural order is a strict order also for odd names") {
  CHECK(natural_less("c2", "c10"));
  CHECK_FALSE(natural_less("c10", "c2"));
  CHECK(natural_less("c", "c0"));
  CHECK(natural_less("c01", "c1") != natural_less("c1", "c01"));
  CHECK_FALSE(natural_less("", ""));
  CHECK(natural_less("a99999999999999999999", "a100000000000000000000"));
}
