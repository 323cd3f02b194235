#include "actions/viewer_camera.h"

#include <algorithm>
#include <utility>

namespace jigtime::actions {
namespace {

using std::chrono::milliseconds;

// Pictures kept ready after the one on show, as far as they fit into the bytes.
constexpr std::size_t most_ahead = 6;
constexpr std::size_t most_bytes = 32 << 20;
// A picture that nobody wants any more is given up only after so long: somebody who drags through slow footage wants
// to see something on the way.
constexpr Length patience = milliseconds{1000};
// Pictures shown a second when footage runs faster than it was filmed.
constexpr Length display_step = milliseconds{33};
// Further behind than this, pictures are left out to catch up.
constexpr Length most_behind = milliseconds{100};
// A hole in the pictures longer than this is the footage's own, not ours.
constexpr Length most_hole = milliseconds{2000};
constexpr Length shortest_nap = milliseconds{2};
constexpr Length longest_nap = milliseconds{40};

Length usual_picture_length(const film::Camera& camera) {
  for (const film::Clip& clip : camera.clips) {
    if (clip.picture_length > Length{0}) return clip.picture_length;
  }
  return milliseconds{33};
}

Sight sight_of(film::Shows shows) {
  switch (shows) {
    case film::Shows::picture: return Sight::picture;
    case film::Shows::off: return Sight::off;
    case film::Shows::sound_only: return Sight::sound_only;
    case film::Shows::gone: return Sight::gone;
    case film::Shows::unreadable: return Sight::unreadable;
  }
  return Sight::unreadable;
}

}  // namespace

ViewerCamera::ViewerCamera(film::Camera camera, int most_width, const ViewerClock& clock, Calls calls)
    : clock_{clock},
      calls_{std::move(calls)},
      picture_length_{usual_picture_length(camera)},
      reader_{std::move(camera), {most_width, true, 2}},
      thread_{[this](const std::stop_token& stop) { run(stop); }} {}

ViewerCamera::~ViewerCamera() { thread_.request_stop(); }

void ViewerCamera::seek(SessionTime t) {
  {
    const std::lock_guard lock{mutex_};
    newest_ = ++asked_;
    seek_to_ = t;
  }
  changed_.notify_all();
}

void ViewerCamera::step(int pictures) {
  {
    const std::lock_guard lock{mutex_};
    steps_ += pictures;
  }
  changed_.notify_all();
}

void ViewerCamera::set_most_width(int width) {
  {
    const std::lock_guard lock{mutex_};
    new_width_ = width;
  }
  changed_.notify_all();
}

void ViewerCamera::wake() {
  {
    const std::lock_guard lock{mutex_};
    woken_ = true;
  }
  changed_.notify_all();
}

void ViewerCamera::drop_passed(SessionTime t) {
  while (entries_.size() > 1 && entries_[1].seen.begins <= t) entries_.pop_front();
}

CameraView ViewerCamera::view(SessionTime t) {
  CameraView view;
  {
    const std::lock_guard lock{mutex_};
    view.picture = shown_;
    if (entries_.empty() || asked_ != served_) return view;
    drop_passed(t);
    const Entry& entry = entries_.front();
    view.sight = sight_of(entry.seen.shows);
    view.begins = entry.seen.begins;
    view.off = entry.seen.off;
    view.words = entry.seen.words;
    view.picture = shown_ = entry.picture;
  }
  return view;
}

PlayCounts ViewerCamera::take_counts() {
  const std::lock_guard lock{mutex_};
  return std::exchange(counts_, {});
}

std::vector<std::filesystem::path> ViewerCamera::bad_copies() const {
  const std::lock_guard lock{mutex_};
  return bad_copies_;
}

void ViewerCamera::run(const std::stop_token& stop) {
  reader_.set_give_up([this, stop] {
    return stop.stop_requested() || (newest_ != serving_ && steady_now() - serving_since_ > patience);
  });
  while (const std::optional<Task> task = wait_for_task(stop)) {
    serving_since_ = steady_now();
    if (task->kind == Task::Kind::seek) do_seek(*task);
    if (task->kind == Task::Kind::step) do_step(*task);
    if (task->kind == Task::Kind::ahead) fetch_ahead();
    const std::lock_guard lock{mutex_};
    bad_copies_ = reader_.bad_copies();
  }
}

bool ViewerCamera::has_room(const ViewerClock::Reading& reading) const {
  if (entries_.empty() || at_end_ || asked_ != served_) return false;
  std::size_t bytes = 0;
  for (const Entry& entry : entries_) bytes += entry.picture ? entry.picture->rgba.size() : 0;
  // Two must always fit, or nothing would move.
  const bool full = entries_.size() > most_ahead || (entries_.size() > 2 && bytes > most_bytes);
  if (!full) return true;
  return reading.playing && entries_[1].seen.begins <= reading.at(steady_now());
}

std::optional<ViewerCamera::Task> ViewerCamera::wait_for_task(const std::stop_token& stop) {
  std::unique_lock lock{mutex_};
  while (!stop.stop_requested()) {
    woken_ = false;
    if (new_width_) {
      reader_.set_most_width(*new_width_);
      new_width_.reset();
      // What was fetched has the old size: once more from what is on show.
      if (asked_ == served_ && !entries_.empty()) newest_ = ++asked_, seek_to_ = clock_.at(steady_now());
      afresh_ = true;
    }
    if (asked_ != served_) {
      serving_ = asked_;
      return Task{Task::Kind::seek, asked_, seek_to_, 0, std::exchange(afresh_, false)};
    }
    if (steps_ != 0) return Task{Task::Kind::step, asked_, {}, std::exchange(steps_, 0)};
    const ViewerClock::Reading reading = clock_.read();
    if (has_room(reading)) return Task{Task::Kind::ahead, asked_, {}, 0};
    const auto disturbed = [this] { return woken_ || new_width_ || asked_ != served_ || steps_ != 0; };
    if (reading.playing && entries_.size() > 1 && !at_end_) {
      const auto left =
          static_cast<double>((entries_[1].seen.begins - reading.at(steady_now())).count()) / reading.speed;
      const Length nap{static_cast<std::int64_t>(std::min(left, static_cast<double>(longest_nap.count())))};
      changed_.wait_for(lock, stop, std::max(nap, shortest_nap), disturbed);
    } else {
      changed_.wait(lock, stop, disturbed);
    }
  }
  return std::nullopt;
}

/// What was fetched ahead may hold the picture already: the next ones are what is asked for most.
bool ViewerCamera::serve_from_entries(const Task& task) {
  const std::lock_guard lock{mutex_};
  if (!gapless_ || entries_.size() < 2 || task.to < entries_.front().seen.begins) return false;
  if (task.to >= entries_.back().seen.begins) return false;
  drop_passed(task.to);
  served_ = task.seek_number;
  return true;
}

std::optional<SessionTime> ViewerCamera::step_within_entries(SessionTime from, int pictures) const {
  const std::lock_guard lock{mutex_};
  if (!gapless_ || pictures <= 0 || entries_.empty() || from < entries_.front().seen.begins) return std::nullopt;
  std::size_t i = 0;
  while (i + 1 < entries_.size() && entries_[i + 1].seen.begins <= from) ++i;
  for (; pictures > 0 && i + 1 < entries_.size(); --pictures) {
    if (entries_[++i].seen.shows != film::Shows::picture) return std::nullopt;
  }
  return pictures == 0 ? std::optional{entries_[i].seen.begins} : std::nullopt;
}

void ViewerCamera::do_seek(const Task& task) {
  const ViewerClock::Reading reading = clock_.read();
  if (!reading.playing && !task.afresh && serve_from_entries(task)) {
    if (calls_.on_change) calls_.on_change();
    return;
  }
  auto seen = reader_.at(reading.playing ? std::max(task.to, reading.at(steady_now())) : task.to);
  if (!seen) {
    // Another seek is waiting, or the end. Where the reader stands now follows nothing.
    const std::lock_guard lock{mutex_};
    afresh_ = true;
    return;
  }
  auto picture =
      seen->shows == film::Shows::picture ? std::make_shared<const Picture>(std::move(seen->picture)) : nullptr;
  {
    const std::lock_guard lock{mutex_};
    served_ = task.seek_number;
    at_end_ = false;
    gapless_ = true;
    entries_.clear();
    entries_.push_back({std::move(*seen), std::move(picture)});
  }
  if (calls_.on_change) calls_.on_change();
}

void ViewerCamera::do_step(const Task& task) {
  const ViewerClock::Reading reading = clock_.read();
  if (const auto near = step_within_entries(reading.at(steady_now()), task.pictures)) {
    calls_.on_step(*near, reading.generation);
    return;
  }
  const auto found = reader_.picture_from(reading.at(steady_now()), task.pictures);
  {
    // The reader stands elsewhere now: what comes next does not follow what was fetched ahead.
    const std::lock_guard lock{mutex_};
    afresh_ = true;
  }
  if (found && *found) calls_.on_step((*found)->begins, reading.generation);
  const std::lock_guard lock{mutex_};
  // Nothing there, or overtaken by playing on: back to where the clock is.
  if (asked_ == served_) newest_ = ++asked_, seek_to_ = clock_.at(steady_now());
}

void ViewerCamera::count(const film::Seen& before, const film::Seen& seen, Steady when) {
  const ViewerClock::Reading reading = clock_.read();
  if (!reading.playing || reading.speed > 1 || seen.shows != film::Shows::picture) return;
  ++counts_.due;
  if (reading.at(when) > seen.begins) ++counts_.late;
  const Length step = seen.begins - before.begins;
  if (before.shows != film::Shows::picture || step > most_hole) return;
  const std::int64_t left_out = std::max<std::int64_t>((step + picture_length_ / 2) / picture_length_ - 1, 0);
  counts_.due += left_out;
  counts_.late += left_out;
}

void ViewerCamera::fetch_ahead() {
  const ViewerClock::Reading reading = clock_.read();
  film::Seen last;
  std::uint64_t number = 0;
  {
    const std::lock_guard lock{mutex_};
    const film::Seen& back = entries_.back().seen;
    last = {back.shows, back.begins, {}, back.off, back.words};
    number = served_;
  }
  const SessionTime at = reading.at(steady_now());
  SessionTime wanted = last.begins;
  const auto leap = Length{static_cast<std::int64_t>(static_cast<double>(display_step.count()) * reading.speed)};
  const bool behind = reading.playing && at - last.begins > picture_length_ + most_behind;
  if (reading.playing && reading.speed > 1) wanted = last.begins + leap;
  if (behind) wanted = std::max(wanted, at + (reading.speed > 1 ? leap : Length{0}));
  const bool leaps = wanted > last.begins && last.shows == film::Shows::picture;
  Result<std::optional<film::Seen>> seen = std::optional<film::Seen>{};
  if (leaps) {
    auto there = reader_.at(wanted);
    if (!there) return;
    seen = std::optional{std::move(*there)};
  }
  // A camera whose pictures last longer than the leap shows the same one.
  if (!leaps || (*seen)->begins <= last.begins) seen = reader_.next();
  if (!seen) return;
  const Steady ready = steady_now();
  const std::lock_guard lock{mutex_};
  if (number != served_ || entries_.empty()) return;
  if (!*seen) {
    at_end_ = true;
    return;
  }
  auto picture =
      (*seen)->shows == film::Shows::picture ? std::make_shared<const Picture>(std::move((*seen)->picture)) : nullptr;
  if (reading.playing) drop_passed(reading.at(ready));
  if (leaps) gapless_ = false;
  count(last, **seen, ready);
  entries_.push_back({std::move(**seen), std::move(picture)});
}

}  // namespace jigtime::actions
