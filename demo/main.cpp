// jigtime_demo_maker OUT_DIR [--quick]: writes the cards of one fictional session, the truth and the builder's tags.
// What is in it: scenario.h. What the truth means: truth.h.

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <functional>
#include <string_view>
#include <thread>
#include <vector>

#include "demo/card.h"
#include "demo/truth.h"

namespace {

namespace fs = std::filesystem;
using namespace jigtime;

constexpr int done_well = 0, wrong_usage = 2, failed = 3;

using Plans = std::vector<const demo::RecordingPlan*>;

Plans longest_first(const demo::Scenario& scenario) {
  Plans plans;
  for (const demo::RecordingPlan& plan : scenario.recordings) plans.push_back(&plan);
  std::ranges::stable_sort(plans, std::greater{},
                           [](const demo::RecordingPlan* plan) { return plan->end - plan->begin; });
  return plans;
}

fs::path folder_of(const demo::Scenario& scenario, const demo::RecordingPlan& plan, const fs::path& folder) {
  return folder / scenario.cameras[static_cast<std::size_t>(plan.camera)].name;
}

Done write_safely(const demo::Scenario& scenario, const demo::Story& story, const demo::RecordingPlan& plan,
                  const fs::path& folder) {
  try {
    return demo::write_recording(scenario, story, plan, folder_of(scenario, plan, folder));
  } catch (const std::exception& problem) {
    return Error{Code::internal, std::string{"The demo stopped: "} + problem.what()};
  }
}

/// All recordings, as many at once as there are processors, the longest first.
Done write_recordings(const demo::Scenario& scenario, const demo::Story& story, const fs::path& folder) {
  const Plans plans = longest_first(scenario);
  std::vector<Done> results(plans.size());
  std::atomic<std::size_t> next = 0;
  {
    std::vector<std::jthread> workers;
    for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i) {
      workers.emplace_back([&] {
        for (std::size_t job = next++; job < plans.size(); job = next++) {
          results[job] = write_safely(scenario, story, *plans[job], folder);
        }
      });
    }
  }
  for (const Done& result : results) {
    if (!result) return result;
  }
  return {};
}

/// Nothing of the builder's is ever written over: the folder must be new or empty.
Done make_folder(const fs::path& folder) {
  std::error_code problem;
  fs::create_directories(folder, problem);
  if (problem) return Error{Code::denied, "The folder " + folder.string() + " cannot be made: " + problem.message()};
  const bool empty = fs::is_empty(folder, problem);
  if (problem) return Error{Code::denied, "The folder " + folder.string() + " cannot be read: " + problem.message()};
  if (!empty) return Error{Code::conflict, folder.string() + " is not empty. Name a new folder."};
  return {};
}

Done make_session(demo::Size size, const fs::path& folder) {
  if (const Done done = make_folder(folder); !done) return done;
  const demo::Scenario scenario = demo::make_scenario(size);
  const demo::Story story = demo::tell(scenario);
  if (const Done done = write_recordings(scenario, story, folder); !done) return done;
  for (const demo::CameraPlan& camera : scenario.cameras) {
    if (const Done done = demo::write_index(camera, folder / camera.name); !done) return done;
  }
  return demo::write_truth(scenario, story, folder);
}

int run(int count, char** words) {
  const bool quick = count == 3 && std::string_view{words[2]} == "--quick";
  if (count < 2 || (count > 2 && !quick) || std::string_view{words[1]}.starts_with("-")) {
    std::fputs(
        "usage: jigtime_demo_maker OUT_DIR [--quick]\n"
        "Writes the cards of three cameras, truth.json and tags.csv into OUT_DIR, which must be new or empty.\n"
        "--quick makes four minutes instead of fifteen.\n",
        stderr);
    return wrong_usage;
  }
  const auto begin = std::chrono::steady_clock::now();
  const Done done = make_session(quick ? demo::Size::quick : demo::Size::full, words[1]);
  if (!done) {
    std::fprintf(stderr, "%s\n", done.error().message().c_str());
    return failed;
  }
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - begin;
  std::fprintf(stderr, "The session lies in %s (made in %.1f s).\n", words[1], taken.count());
  return done_well;
}

}  // namespace

int main(int count, char** words) {
  try {
    return run(count, words);
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "The demo stopped: %s\n", problem.what());
    return failed;
  }
}
