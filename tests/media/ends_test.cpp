#include "media/libav/ends.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <sstream>
#include <string>

#include "support/clip_maker.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::media;
using namespace jigtime::test;

namespace {

/// Latest end of the picture packets that the ffprobe program lists, in seconds on the container's time line.
double outside_end(const std::filesystem::path& path) {
  std::istringstream rows{run({"ffprobe", "-v", "quiet", "-select_streams", "v:0", "-show_entries",
                               "packet=pts_time,duration_time", "-of", "csv=p=0", path.string()})};
  double latest = 0;
  for (std::string row; std::getline(rows, row);) {
    const std::size_t comma = row.find(',');
    const bool stamped = !row.empty() && std::isdigit(static_cast<unsigned char>(row[0])) != 0;
    if (stamped) latest = std::max(latest, std::stod(row) + std::stod(row.substr(comma + 1)));
  }
  return latest;
}

}  // namespace

// Known fault, still open: see the failing checks.
TEST_CASE("the head and the tail of a long file are enough to know its ends") {
  const TempFolder folder;
  ClipPlan plan;
  plan.noise = true;
  plan.width = 320;
  plan.height = 240;
  make_clip(folder / "a", plan);
  for (const std::string kind : {"ts", "mp4", "mkv", "avi"}) {
    CAPTURE(kind);
    const std::filesystem::path path = folder / ("long." + kind);
    std::vector<std::string> words{"-stream_loop", "30", "-i", (folder / "a").string(), "-c:v", "copy", "-c:a"};
    words.insert(words.end(), {kind == "avi" ? "pcm_s16le" : "copy", path.string()});
    ffmpeg(words);
    const std::uintmax_t size = std::filesystem::file_size(path);
    REQUIRE(size > 10'000'000);
    Result<Source> source = Source::open(path, {});
    REQUIRE(source);
    const Result<Ends> ends = find_ends(*source);
    REQUIRE(ends);
    REQUIRE(ends->pictures);
    REQUIRE(ends->sound);
    CHECK(source->file().bytes_read() < size / 2);
    if (kind == "avi") continue;  // Pictures out of order have no stamps there, and ffprobe only guesses.
    CHECK(std::abs(to_seconds(*ends->pictures + source->origin()) - outside_end(path)) < 0.0011);
  }
}

TEST_CASE("sound that ends long before the pictures is found") {
  const TempFolder folder;
  ClipPlan plan;
  plan.noise = true;
  plan.pictures = 450;
  make_clip(folder / "a", plan);
  for (const std::string kind : {"ts", "mp4", "mkv"}) {
    CAPTURE(kind);
    const std::filesystem::path path = folder / ("short." + kind);
    ffmpeg({"-i", (folder / "a").string(), "-c:v", "copy", "-af", "atrim=end=1.5", "-c:a", "aac", path.string()});
    Result<Source> source = Source::open(path, {});
    REQUIRE(source);
    const Result<Ends> ends = find_ends(*source);
    REQUIRE(ends);
    REQUIRE(ends->sound);
    CHECK(std::abs(to_seconds(*ends->sound) - 1.5) < 0.03);
    CHECK(std::abs(to_seconds(*ends->pictures) - 15.0) < 0.0011);
  }
}
