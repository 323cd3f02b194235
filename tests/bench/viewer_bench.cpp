// bench_viewer FOLDER [SECONDS] [PLAY_SECONDS]: how quickly the viewer shows a random instant and how many pictures
// come late while it plays, from three 1920x1080 cameras at 30 pictures a second, out of review copies and out of the
// footage itself; beside ffmpeg decoding the same file. FOLDER keeps the footage (made by ffmpeg) for the next run.

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <mutex>
#include <random>
#include <string>
#include <thread>
#include <vector>

#include "actions/review_copies.h"
#include "actions/viewer.h"
#include "media/probe.h"

namespace {

namespace fs = std::filesystem;
using namespace jigtime;
using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

constexpr int cameras = 3;
constexpr int seeks = 100;

double seconds_since(Clock::time_point begin) { return std::chrono::duration<double>(Clock::now() - begin).count(); }

double processor_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto of = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
  };
  return of(usage.ru_utime) + of(usage.ru_stime);
}

double resident_mb() {
  std::ifstream status{"/proc/self/status"};
  for (std::string line; std::getline(status, line);) {
    if (line.starts_with("VmRSS:")) return std::atof(line.c_str() + 6) / 1024;
  }
  return 0;
}

bool run(const std::string& command) {
  return std::system(command.c_str()) == 0;
}  // NOLINT: fixed words and our own paths

/// Moving shapes and grain, as hard to decode as a shop under strip lights.
bool make_clip(const fs::path& path, int camera, int length_s) {
  if (fs::exists(path)) return true;
  return run(
      "ffmpeg -nostdin -v error -y -f lavfi -i testsrc2=size=1920x1080:rate=30:duration=" + std::to_string(length_s) +
      " -f lavfi -i sine=frequency=" + std::to_string(300 + 100 * camera) + ":duration=" + std::to_string(length_s) +
      " -vf noise=alls=8:allf=t -c:v libx264 -preset superfast -b:v 17M -g 30 -pix_fmt yuv420p -c:a aac '" +
      path.string() + "'");
}

film::Camera camera_of(const fs::path& path, int number, int length_s, const fs::path& copies) {
  const Length length = std::chrono::seconds{length_s};
  film::Clip clip;
  film::Part part{path, {}, {}, ClipTime{}, length};
  if (!copies.empty()) {
    if (const auto copy = actions::find_review_copy(*media::identify(path), copies)) part.copy = *copy;
  }
  clip.parts = {part};
  clip.pieces = {{ClipTime{}, ClipTime{length}, SessionTime{number * 7ms}, number * 20'000, Length{0}}};
  clip.picture_length = 33'333'333ns;
  return {"camera " + std::to_string(number), {clip}};
}

/// Wakes the waiting bench as it would a window.
struct Bell {
  std::mutex mutex;
  std::condition_variable rang;
  void ring() { rang.notify_all(); }
};

bool settled(const actions::Viewer& viewer) {
  const auto views = viewer.latest();
  return std::all_of(views.begin(), views.end(),
                     [](const auto& view) { return view.sight != actions::Sight::loading; });
}

void wait_until_settled(const actions::Viewer& viewer, Bell& bell) {
  std::unique_lock lock{bell.mutex};
  while (!settled(viewer)) bell.rang.wait_for(lock, 1ms);
}

void measure_seeks(const std::vector<film::Camera>& all, int length_s, const char* what) {
  Bell bell;
  actions::Viewer viewer{all, {48000, 640, [&] { bell.ring(); }}};
  wait_until_settled(viewer, bell);
  std::mt19937 random{7};
  std::uniform_real_distribution<double> anywhere{0.5, length_s - 0.5};
  std::vector<double> taken;
  for (int i = 0; i < seeks; ++i) {
    const SessionTime to{from_seconds(anywhere(random))};
    const auto begin = Clock::now();
    viewer.show(to);
    wait_until_settled(viewer, bell);
    taken.push_back(seconds_since(begin) * 1e3);
  }
  std::sort(taken.begin(), taken.end());
  const auto within = std::count_if(taken.begin(), taken.end(), [](double ms) { return ms <= 100; });
  std::printf(
      "random seek, %-14s all %d cameras shown: median %5.1f ms, 95 %% %6.1f ms, most %6.1f ms; within 100 ms: %.1f "
      "%%\n",
      what, cameras, taken[seeks / 2], taken[seeks * 95 / 100], taken.back(),
      100.0 * static_cast<double>(within) / seeks);
}

void measure_play(const std::vector<film::Camera>& all, int play_s, const char* what) {
  Bell bell;
  actions::Viewer viewer{all, {48000, 640, [&] { bell.ring(); }}};
  viewer.show(SessionTime{200ms});
  wait_until_settled(viewer, bell);
  std::this_thread::sleep_for(300ms);
  const double processor_before = processor_seconds();
  double memory_first = 0, memory_last = 0;
  viewer.play();
  const auto begin = Clock::now();
  auto tenth = 1;
  while (seconds_since(begin) < play_s) {
    if (!viewer.playing()) {
      viewer.play();  // from the start again
    }
    (void)viewer.latest();
    std::this_thread::sleep_for(16ms);
    if (seconds_since(begin) > play_s * tenth / 10.0) {
      memory_last = resident_mb();
      if (tenth == 1) memory_first = memory_last;
      ++tenth;
    }
  }
  viewer.pause();
  std::int64_t due = 0, late = 0;
  for (const auto& counts : viewer.take_counts()) due += counts.due, late += counts.late;
  std::printf(
      "play %d s at 1x, %-14s %lld pictures due, %lld late: %.2f %%; %.2f processors busy; memory %.0f MB after a "
      "tenth, %.0f MB at the end\n",
      play_s, what, static_cast<long long>(due), static_cast<long long>(late),
      due > 0 ? 100.0 * static_cast<double>(late) / static_cast<double>(due) : 0.0,
      (processor_seconds() - processor_before) / play_s, memory_first, memory_last);
}

int bench(const fs::path& folder, int length_s, int play_s) {
  fs::create_directories(folder);
  std::vector<fs::path> files;
  std::vector<journal::Clip> clips;
  for (int i = 0; i < cameras; ++i) {
    files.push_back(folder / ("camera" + std::to_string(i) + "_" + std::to_string(length_s) + ".mp4"));
    if (!make_clip(files.back(), i, length_s)) return 1;
    journal::Part part;
    part.path = files.back();
    part.identity = *media::identify(files.back());
    part.length = std::chrono::seconds{length_s};
    journal::Clip clip;
    clip.parts = {part};
    clip.pictures.emplace();
    clips.push_back(clip);
  }
  actions::CopySettings settings;
  settings.folder = folder / "copies";
  auto begin = Clock::now();
  const auto made = actions::make_review_copies(clips, settings, {});
  if (!made) return std::fprintf(stderr, "%s\n", made.error().message().c_str()), 1;
  if (made->made > 0) {
    std::printf("review copies: %d made, %.2f s for a second of one camera\n", made->made,
                seconds_since(begin) / (made->made * length_s));
  }
  for (const fs::path& file : {files[0], *actions::find_review_copy(clips[0].parts[0].identity, settings.folder)}) {
    begin = Clock::now();
    if (!run("ffmpeg -nostdin -v error -threads 1 -i '" + file.string() + "' -an -f null -")) return 1;
    std::printf("ffmpeg decodes %-16s (%.1f MB) on one thread: %.1f times as fast as it plays\n",
                file == files[0] ? "the footage" : "its review copy", static_cast<double>(fs::file_size(file)) / 1e6,
                length_s / seconds_since(begin));
  }
  for (const bool copies : {true, false}) {
    std::vector<film::Camera> all;
    for (int i = 0; i < cameras; ++i)
      all.push_back(camera_of(files[static_cast<std::size_t>(i)], i, length_s, copies ? settings.folder : fs::path{}));
    measure_seeks(all, length_s, copies ? "review copies:" : "footage:");
    measure_play(all, play_s, copies ? "review copies:" : "footage:");
  }
  return 0;
}

}  // namespace

int main(int count, char** words) {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  if (count < 2) {
    std::fputs("usage: bench_viewer FOLDER [SECONDS of footage, 60] [SECONDS to play, 30]\n", stderr);
    return 2;
  }
  return bench(words[1], count > 2 ? std::atoi(words[2]) : 60, count > 3 ? std::atoi(words[3]) : 30);
}
