// The same work on many things by a few threads; what comes out does not depend on which thread did what.
#pragma once

#include <algorithm>
#include <atomic>
#include <stop_token>
#include <thread>
#include <vector>

namespace jigtime::sync {

/// Calls work(state, i) for every i in [0, count) in rising order of beginning; each thread has a State of its own,
/// made by State{}. Stops early when asked to. Whatever work throws ends the program: it must not throw.
template <class State, class Work>
void in_parallel(int threads, int count, const std::stop_token& stop, const Work& work) {
  std::atomic<int> next = 0;
  const auto run = [&] {
    State state;
    for (int i = next++; i < count && !stop.stop_requested(); i = next++) work(state, i);
  };
  if (threads <= 1 || count <= 1) {
    run();
    return;
  }
  std::vector<std::jthread> workers;
  for (int i = 0; i < std::min(threads, count); ++i) workers.emplace_back(run);
}

}  // namespace jigtime::sync
