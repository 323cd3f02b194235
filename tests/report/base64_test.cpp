#include "report/base64.h"

#include <doctest/doctest.h>

#include <string_view>
#include <vector>

using jigtime::report::to_base64;

namespace {

std::string encoded(std::string_view text) {
  const std::vector<std::uint8_t> bytes{text.begin(), text.end()};
  return to_base64(bytes);
}

}  // namespace

// RFC 4648, section 10.
TEST_CASE("the published test vectors are encoded as printed") {
  CHECK(encoded("").empty());
  CHECK(encoded("f") == "Zg==");
  CHECK(encoded("fo") == "Zm8=");
  CHECK(encoded("foo") == "Zm9v");
  CHECK(encoded("foob") == "Zm9vYg==");
  CHECK(encoded("fooba") == "Zm9vYmE=");
  CHECK(encoded("foobar") == "Zm9vYmFy");
}

TEST_CASE("the last letters of the alphabet and bytes above 127 are encoded") {
  const std::vector<std::uint8_t> bytes{0xFB, 0xFF, 0xFE};
  CHECK(to_base64(bytes) == "+//+");
}
