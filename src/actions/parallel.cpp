#include "actions/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace jigtime::actions {

void for_each_index(int count, int threads, const std::stop_token& stop, const std::function<void(int)>& deed) {
  std::atomic<int> next{0};
  std::exception_ptr failure;
  std::mutex guard;
  const auto work = [&] {
    while (!stop.stop_requested()) {
      const int index = next.fetch_add(1);
      if (index >= count) return;
      try {
        deed(index);
      } catch (...) {
        const std::lock_guard lock{guard};
        if (!failure) failure = std::current_exception();
        next.store(count);
      }
    }
  };
  {
    std::vector<std::jthread> crew;
    for (int i = 1; i < std::min(threads, count); ++i) crew.emplace_back(work);
    work();
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace jigtime::actions
