#include "app/backroom/jobs.h"

#include <algorithm>
#include <exception>

#include "app/view/words.h"

namespace jigtime::app {

Jobs::~Jobs() {
  *alive_ = false;
  for (Job& job : jobs_) job.thread.request_stop();
  jobs_.clear();  // joins
}

int Jobs::start(std::string name, Work work) {
  Job& job = jobs_.emplace_back();
  job.number = ++last_number_;
  job.name = std::move(name);
  job.thread =
      std::jthread{[this, &job, work = std::move(work)](const std::stop_token& stop) { run(job, work, stop); }};
  return job.number;
}

void Jobs::run(Job& job, const Work& work, const std::stop_token& stop) {
  actions::Watch watch;
  watch.stop = stop;
  watch.progress = [this, &job](double fraction, std::string_view doing) { note(job, fraction, doing); };
  std::function<void()> after;
  try {
    after = work(watch);
  } catch (const std::exception& failure) {
    after = [failed = failed_, words = say(Word::went_wrong_inside, {failure.what()})] { failed(words); };
  }
  mailbox_.post([this, alive = alive_, number = job.number, after = std::move(after)] {
    if (!*alive) return;
    ended(number);
    if (after) after();
  });
}

void Jobs::note(Job& job, double fraction, std::string_view doing) {
  {
    const std::lock_guard lock{job.guard};
    const int before = static_cast<int>(job.fraction * 500);
    job.time_left.note(fraction, std::chrono::steady_clock::now() - job.began);
    job.fraction = fraction;
    const bool same = job.doing == doing && static_cast<int>(fraction * 500) == before;
    job.doing = doing;
    if (same) return;
  }
  mailbox_.post([] {});  // only so that the window draws
}

void Jobs::ended(int number) {
  jobs_.remove_if([number](const Job& job) { return job.number == number; });
}

void Jobs::cancel(int number) {
  for (Job& job : jobs_) {
    if (job.number == number) job.thread.request_stop();
  }
}

bool Jobs::running(const std::string& name) const {
  return std::any_of(jobs_.begin(), jobs_.end(), [&](const Job& job) { return job.name == name; });
}

std::vector<JobState> Jobs::states() const {
  std::vector<JobState> all;
  for (const Job& job : jobs_) {
    const std::lock_guard lock{job.guard};
    all.push_back({job.number, job.name, job.doing, job.fraction, job.thread.get_stop_token().stop_requested(),
                   job.time_left.left()});
  }
  return all;
}

}  // namespace jigtime::app
