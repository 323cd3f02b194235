// What other threads have for the window: picked up at the start of a frame.
#pragma once

#include <functional>
#include <mutex>
#include <vector>

namespace jigtime::app {

/// post() from any thread; open() on the window's thread only.
class Mailbox {
 public:
  /// `wake` is called after every post, from the poster's thread, and must return at once.
  explicit Mailbox(std::function<void()> wake) : wake_{std::move(wake)} {}

  void post(std::function<void()> letter) {
    {
      const std::lock_guard lock{guard_};
      letters_.push_back(std::move(letter));
    }
    wake_();
  }

  /// Runs what has come, in order, and says whether anything had. A letter may post.
  bool open() {
    std::vector<std::function<void()>> letters;
    {
      const std::lock_guard lock{guard_};
      letters.swap(letters_);
    }
    for (const auto& letter : letters) letter();
    return !letters.empty();
  }

 private:
  std::function<void()> wake_;
  std::mutex guard_;
  std::vector<std::function<void()>> letters_;
};

}  // namespace jigtime::app
