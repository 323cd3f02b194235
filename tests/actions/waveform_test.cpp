#include "actions/waveform.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <cstring>

#include "actions/listen.h"
#include "actions/whole_file.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::actions;

namespace {

constexpr int rate = 16000;

void put(std::string& bytes, std::uint32_t value, int size) {
  for (int i = 0; i < size; ++i) bytes += static_cast<char>(value >> (8 * i) & 0xFFU);
}

/// Three seconds: silence, a tone of a tenth of full scale (-20 dB), a tone at full scale. RIFF WAVE, 16 bits, one
/// channel.
std::string three_seconds() {
  std::string bytes = "RIFF";
  put(bytes, 36 + 3 * rate * 2, 4);
  bytes += "WAVEfmt ";
  put(bytes, 16, 4);
  put(bytes, 1, 2);
  put(bytes, 1, 2);
  put(bytes, rate, 4);
  put(bytes, rate * 2, 4);
  put(bytes, 2, 2);
  put(bytes, 16, 2);
  bytes += "data";
  put(bytes, 3 * rate * 2, 4);
  for (int n = 0; n < 3 * rate; ++n) {
    const double level = n < rate ? 0 : n < 2 * rate ? 0.1 : 1;
    put(bytes, static_cast<std::uint32_t>(std::lround(32767 * level * std::sin(n * 0.4))) & 0xFFFFU, 2);
  }
  return bytes;
}

struct Heard3 {
  test::TempFolder folder;
  journal::Clip clip;

  Heard3() {
    ::setenv("XDG_CACHE_HOME", folder.path().c_str(), 1);
    clip.sound = journal::Sound{"pcm_s16le", rate, 1};
    clip.length = std::chrono::seconds{3};
    journal::Part& part = clip.parts.emplace_back();
    part.path = folder / "tone.wav";
    part.length = clip.length;
    REQUIRE(write_whole(part.path, three_seconds()));
  }
};

}  // namespace

TEST_CASE("what was heard for the line-up is drawn: silence is 0, a tenth of full scale two thirds, full scale all") {
  Heard3 three;
  std::vector<std::string> notes;
  REQUIRE(listen(three.clip, {}, notes));
  const auto waveform = kept_waveform(three.clip);
  REQUIRE(waveform);
  REQUIRE(waveform->peaks.size() >= 60);
  CHECK(waveform->peaks[10] == 0);
  CHECK(waveform->peaks[30] == doctest::Approx(255.0 * 40 / 60).epsilon(0.02));
  CHECK(waveform->peaks[50] >= 253);
}

TEST_CASE("a clip that was never listened to, has no sound, or whose kept sound is garbled has no waveform") {
  Heard3 three;
  CHECK_FALSE(kept_waveform(three.clip));
  std::vector<std::string> notes;
  REQUIRE(listen(three.clip, {}, notes));
  for (const auto& file : std::filesystem::recursive_directory_iterator{three.folder / "jigtime"}) {
    if (file.path().extension() == ".features") REQUIRE(write_whole(file.path(), std::string_view{"garbled"}));
  }
  CHECK_FALSE(kept_waveform(three.clip));
  three.clip.sound.reset();
  CHECK_FALSE(kept_waveform(three.clip));
}
