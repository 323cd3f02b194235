// The one thread that edits the journal for the window. Deeds are done in order, each at once and for good; after them
// the window gets a new snapshot.
// Must never know: ImGui, GLFW.
// Begin reading at: Desk.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <string>
#include <thread>

#include "app/backroom/mailbox.h"
#include "app/backroom/snapshot.h"

namespace jigtime::app {

/// What the builder is told about a deed.
struct Told {
  std::string words;
  bool failed = false;
};

class Desk {
 public:
  /// Runs on the desk's thread; the words are shown. Its error is shown as it is.
  using Deed = std::function<Result<std::string>(store::Store&)>;
  /// Runs on the desk's thread; what it returns runs on the window's.
  using Question = std::function<std::function<void()>(store::Store&)>;

  /// Called on the window's thread, through the mailbox.
  struct Replies {
    std::function<void(std::shared_ptr<const Snapshot>)> snapshot;
    std::function<void(Told)> told;
    std::function<void(Error)> not_opened;
  };

  /// Opens the journal on the new thread. `mailbox` must outlive this.
  Desk(std::filesystem::path journal, Mailbox& mailbox, Replies replies);
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;
  /// Waits for the deeds that were asked for.
  ~Desk();

  void do_it(Deed deed);
  void ask(Question question);
  /// From now on snapshots show that session.
  void look_at(journal::SessionId session);
  /// Another connection has changed the journal.
  void refresh();

 private:
  struct Errand {
    Deed deed{};
    Question question{};
    std::optional<journal::SessionId> session{};
  };
  void run();
  void errand(const Errand& one);
  void publish();
  Done read_quick();
  void choose_session(const std::vector<journal::Session>& sessions);
  void put(Errand errand);
  std::optional<Errand> take();
  void tell(Told told);

  std::filesystem::path path_;
  Mailbox& mailbox_;
  Replies replies_;
  std::shared_ptr<bool> alive_ = std::make_shared<bool>(true);  ///< the window's thread alone reads and writes it

  std::mutex guard_;
  std::condition_variable work_;
  std::deque<Errand> errands_;
  bool closing_ = false;

  std::optional<store::Store> store_;  ///< this and below: the desk's thread alone
  std::optional<journal::SessionId> session_;
  Snapshot latest_;
  bool changed_ = true;

  std::thread thread_;
};

}  // namespace jigtime::app
