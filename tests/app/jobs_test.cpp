#include "app/backroom/jobs.h"

#include <doctest/doctest.h>

#include <atomic>
#include <condition_variable>
#include <stdexcept>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

/// The window's loop in small: sleeps until somebody posts.
struct Loop {
  std::mutex guard;
  std::condition_variable posted;
  int posts = 0;
  Mailbox mailbox{[this] {
    {
      const std::lock_guard lock{guard};
      ++posts;
    }
    posted.notify_one();
  }};

  template <class Done>
  bool until(Done&& done) {
    for (int i = 0; i < 200 && !done(); ++i) {
      std::unique_lock lock{guard};
      posted.wait_for(lock, 100ms, [this] { return posts > 0; });
      posts = 0;
      lock.unlock();
      mailbox.open();
    }
    return done();
  }
};

}  // namespace

TEST_CASE("a job's result comes back on the window's thread, and its progress is told meanwhile") {
  Loop loop;
  Jobs jobs{loop.mailbox, {}};
  std::atomic<bool> go{false};
  bool ended = false;
  std::thread::id where;
  jobs.start("count", [&](const actions::Watch& watch) -> std::function<void()> {
    watch.tell(0.5, "counting");
    while (!go) std::this_thread::sleep_for(1ms);
    return [&] {
      ended = true;
      where = std::this_thread::get_id();
    };
  });
  CHECK(loop.until([&] { return !jobs.states().empty() && jobs.states().front().fraction == 0.5; }));
  CHECK(jobs.states().front().doing == "counting");
  CHECK(jobs.running("count"));
  go = true;
  CHECK(loop.until([&] { return ended; }));
  CHECK(where == std::this_thread::get_id());
  CHECK_FALSE(jobs.running());
}

TEST_CASE("a job that is cancelled hears of it and ends") {
  Loop loop;
  Jobs jobs{loop.mailbox, {}};
  bool ended = false;
  const int number = jobs.start("wait", [&](const actions::Watch& watch) -> std::function<void()> {
    while (!watch.stop.stop_requested()) std::this_thread::sleep_for(1ms);
    return [&] { ended = true; };
  });
  jobs.cancel(number + 1);
  CHECK_FALSE(jobs.states().front().stopping);
  jobs.cancel(number);
  CHECK(loop.until([&] { return ended; }));
}

TEST_CASE("a job that throws takes nothing down and says so") {
  Loop loop;
  std::string told;
  Jobs jobs{loop.mailbox, [&](const std::string& words) { told = words; }};
  jobs.start("break",
             [](const actions::Watch&) -> std::function<void()> { throw std::runtime_error{"no more paper"}; });
  CHECK(loop.until([&] { return !told.empty(); }));
  CHECK(told.find("no more paper") != std::string::npos);
  CHECK_FALSE(jobs.running());
}

TEST_CASE("closing the window stops what still runs, and its result is dropped") {
  Loop loop;
  bool ended = false;
  {
    Jobs jobs{loop.mailbox, {}};
    jobs.start("wait", [&](const actions::Watch& watch) -> std::function<void()> {
      while (!watch.stop.stop_requested()) std::this_thread::sleep_for(1ms);
      return [&] { ended = true; };
    });
  }
  loop.mailbox.open();
  CHECK_FALSE(ended);
}
