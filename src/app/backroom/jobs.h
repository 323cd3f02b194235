// Everything slow, each on a thread of its own with progress, time left and cancel, while the window stays usable.
// Must never know: what the jobs do, ImGui.
// Begin reading at: Jobs.
#pragma once

#include <chrono>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "actions/watch.h"
#include "app/backroom/mailbox.h"
#include "app/view/time_left.h"

namespace jigtime::app {

struct JobState {
  int number = 0;
  std::string name;
  std::string doing;
  double fraction = 0;
  bool stopping = false;
  std::optional<Length> left;
};

/// Used on the window's thread.
class Jobs {
 public:
  /// Runs on the job's thread; what it returns runs on the window's once the job has ended.
  using Work = std::function<std::function<void()>(const actions::Watch&)>;
  using Failed = std::function<void(std::string words)>;

  /// `mailbox` must outlive this. `failed` is called on the window's thread when a job ends by an exception.
  Jobs(Mailbox& mailbox, Failed failed) : mailbox_{mailbox}, failed_{std::move(failed)} {}
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;
  /// Asks all to stop and waits for them.
  ~Jobs();

  int start(std::string name, Work work);
  void cancel(int number);
  bool running() const { return !jobs_.empty(); }
  bool running(const std::string& name) const;
  std::vector<JobState> states() const;

 private:
  struct Job {
    int number = 0;
    std::string name;
    std::chrono::steady_clock::time_point began = std::chrono::steady_clock::now();
    mutable std::mutex guard;
    std::string doing;
    double fraction = 0;
    TimeLeft time_left;
    std::jthread thread;
  };
  void run(Job& job, const Work& work, const std::stop_token& stop);
  void note(Job& job, double fraction, std::string_view doing);
  void ended(int number);

  Mailbox& mailbox_;
  Failed failed_;
  std::shared_ptr<bool> alive_ = std::make_shared<bool>(true);
  std::list<Job> jobs_;
  int last_number_ = 0;
};

}  // namespace jigtime::app
