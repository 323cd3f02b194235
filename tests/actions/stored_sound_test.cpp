#include "actions/stored_sound.h"

#include <doctest/doctest.h>
#include <fcntl.h>

#include <cmath>

#include "actions/whole_file.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;

namespace {

/// Sample n is n / 100000.
StoredSound ramp(const test::TempFolder& folder, std::int64_t count, std::int64_t told) {
  std::vector<float> samples;
  for (std::int64_t i = 0; i < count; ++i) samples.push_back(static_cast<float>(i) / 100000);
  std::vector<std::int16_t> kept;
  to_16_bits(samples, kept);
  const auto path = folder.path() / "ramp";
  const std::string_view bytes{reinterpret_cast<const char*>(kept.data()), kept.size() * sizeof(std::int16_t)};
  REQUIRE(write_whole(path, bytes).ok());
  return StoredSound{::open(path.c_str(), O_RDONLY | O_CLOEXEC), ClipTime{}, told};
}

}  // namespace

TEST_CASE("samples come back where they were, and silence where there are none") {
  const test::TempFolder folder;
  const StoredSound sound = ramp(folder, 20000, 20000);
  for (const std::int64_t first : {-30000, -9000, -1, 0, 7, 8191, 8192, 19999, 20000, 50000}) {
    std::vector<float> out(9000, 5.0F);
    REQUIRE(sound.read(first, out).ok());
    for (std::int64_t i = 0; i < std::ssize(out); ++i) {
      const std::int64_t n = first + i;
      const float expected = n >= 0 && n < 20000 ? static_cast<float>(n) / 100000 : 0.0F;
      if (std::abs(out[static_cast<std::size_t>(i)] - expected) > 2e-5F) FAIL_CHECK("sample ", n, " from ", first);
    }
  }
}

TEST_CASE("a file that became shorter is an error, not silence") {
  const test::TempFolder folder;
  const StoredSound sound = ramp(folder, 100, 20000);
  std::vector<float> out(500);
  const Done read = sound.read(0, out);
  REQUIRE(!read.ok());
  CHECK(read.error().code() == Code::unreadable);
}

TEST_CASE("what is louder than full scale is cut, both ways") {
  std::vector<std::int16_t> kept;
  to_16_bits(std::vector<float>{0, 1, -1, 7, -7, 0.5F, 1.4F / 32767}, kept);
  CHECK(kept == std::vector<std::int16_t>{0, 32767, -32767, 32767, -32767, 16384, 1});
}
