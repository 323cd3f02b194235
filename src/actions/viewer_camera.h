// The pictures of one camera of a Viewer: fetched on a thread of its own, some ahead of the clock.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

#include "actions/viewer.h"
#include "actions/viewer_clock.h"
#include "film/camera_reader.h"

namespace jigtime::actions {

class ViewerCamera {
 public:
  struct Calls {
    std::function<void()> on_change;  ///< a picture that was asked for is there
    /// Where the step went, from where the clock stood in that generation.
    std::function<void(SessionTime, std::uint16_t generation)> on_step;
  };
  /// `clock` must outlive this. The calls come from this one's thread.
  ViewerCamera(film::Camera camera, int most_width, const ViewerClock& clock, Calls calls);
  ViewerCamera(const ViewerCamera&) = delete;
  ViewerCamera& operator=(const ViewerCamera&) = delete;
  ~ViewerCamera();

  void seek(SessionTime t);
  void step(int pictures);
  void set_most_width(int width);
  /// The clock was started or stopped.
  void wake();
  /// What is to be seen at `t`, which never goes back between two seeks.
  CameraView view(SessionTime t);
  PlayCounts take_counts();
  std::vector<std::filesystem::path> bad_copies() const;
  void request_stop() { thread_.request_stop(); }

 private:
  struct Entry {
    film::Seen seen;  ///< without its picture
    std::shared_ptr<const Picture> picture;
  };
  struct Task {
    enum class Kind { seek, step, ahead } kind = Kind::ahead;
    std::uint64_t seek_number = 0;
    SessionTime to{};
    int pictures = 0;
    bool afresh = false;  ///< what was fetched ahead is of no use
  };

  void run(const std::stop_token& stop);
  std::optional<Task> wait_for_task(const std::stop_token& stop);
  bool has_room(const ViewerClock::Reading& reading) const;
  void do_seek(const Task& task);
  bool serve_from_entries(const Task& task);
  std::optional<SessionTime> step_within_entries(SessionTime from, int pictures) const;
  void do_step(const Task& task);
  void fetch_ahead();
  void count(const film::Seen& before, const film::Seen& now, Steady when);
  void drop_passed(SessionTime t);

  const ViewerClock& clock_;
  const Calls calls_;
  Length picture_length_{0};
  film::CameraReader reader_;  ///< its thread only

  mutable std::mutex mutex_;
  std::condition_variable_any changed_;
  std::deque<Entry> entries_;  ///< by beginning; the first is on show, the rest come after it
  std::shared_ptr<const Picture> shown_;
  std::uint64_t asked_ = 0;   ///< seeks
  std::uint64_t served_ = 0;  ///< the last seek that was fetched
  SessionTime seek_to_{};
  int steps_ = 0;
  std::optional<int> new_width_;
  bool woken_ = false;
  bool at_end_ = false;  ///< nothing comes after entries_
  bool afresh_ = false;  ///< the next seek is to use nothing of entries_
  bool gapless_ = true;  ///< no picture was left out between entries_
  PlayCounts counts_;
  std::vector<std::filesystem::path> bad_copies_;

  std::atomic<std::uint64_t> newest_{0};  ///< asked_, for the reader between pictures
  std::uint64_t serving_ = 0;             ///< its thread only
  Steady serving_since_{};
  std::jthread thread_;
};

}  // namespace jigtime::actions
