#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>
#include <string>

#include "media/probe.h"
#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::test;

namespace {

std::vector<std::uint8_t> ramp(std::size_t size) {
  std::vector<std::uint8_t> bytes(size);
  for (std::size_t i = 0; i < size; ++i) bytes[i] = static_cast<std::uint8_t>(i * 7 + i / 256);
  return bytes;
}

/// SHA-256 by coreutils over the size (8 bytes, least first), the first and the last 64 KiB; none twice.
std::string outside_digest(const TempFolder& folder, const std::vector<std::uint8_t>& bytes) {
  std::vector<std::uint8_t> over;
  for (int i = 0; i < 8; ++i) over.push_back(static_cast<std::uint8_t>(bytes.size() >> (8 * i)));
  const std::size_t head = std::min<std::size_t>(bytes.size(), 65536);
  const std::size_t tail = std::min<std::size_t>(bytes.size() - head, 65536);
  over.insert(over.end(), bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(head));
  over.insert(over.end(), bytes.end() - static_cast<std::ptrdiff_t>(tail), bytes.end());
  write_bytes(folder / "over", over);
  return run({"sha256sum", (folder / "over").string()}).substr(0, 64);
}

}  // namespace

TEST_CASE("the digest is SHA-256 over the size and both ends") {
  const TempFolder folder;
  for (const std::size_t size : {1UL, 65535UL, 65536UL, 65537UL, 131072UL, 131073UL, 400000UL}) {
    CAPTURE(size);
    const std::vector<std::uint8_t> bytes = ramp(size);
    write_bytes(folder / "a", bytes);
    const Result<FileIdentity> identity = media::identify(folder / "a");
    REQUIRE(identity);
    CHECK(identity->size_bytes == size);
    // hex() may put the size beside the digest; the digest itself is compared.
    std::string hex;
    for (const std::uint8_t byte : identity->digest) {
      hex += "0123456789abcdef"[byte >> 4];
      hex += "0123456789abcdef"[byte & 15];
    }
    CHECK(hex == outside_digest(folder, bytes));
  }
}

TEST_CASE("a change at either end changes the identity, moving and renaming do not") {
  const TempFolder folder;
  std::vector<std::uint8_t> bytes = ramp(300000);
  write_bytes(folder / "a", bytes);
  const FileIdentity before = *media::identify(folder / "a");
  std::filesystem::rename(folder / "a", folder / "b c");
  CHECK(*media::identify(folder / "b c") == before);
  bytes.back() ^= 1;
  write_bytes(folder / "a", bytes);
  CHECK(*media::identify(folder / "a") != before);
  bytes.back() ^= 1;
  bytes.front() ^= 1;
  write_bytes(folder / "a", bytes);
  CHECK(*media::identify(folder / "a") != before);
}

TEST_CASE("files that are none are refused with what to do") {
  const TempFolder folder;
  CHECK(media::identify(folder / "none").error().code() == Code::not_found);
  CHECK(media::identify(folder.path()).error().code() == Code::unsupported);
  write_bytes(folder / "empty", {});
  CHECK(media::identify(folder / "empty").error().code() == Code::unreadable);
  REQUIRE(mkfifo((folder / "pipe").c_str(), 0600) == 0);
  CHECK(media::identify(folder / "pipe").error().code() == Code::unsupported);
}
