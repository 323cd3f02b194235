#include "app/backroom/desk.h"

#include <algorithm>
#include <exception>

#include "app/view/words.h"

namespace jigtime::app {
namespace {

constexpr int changes_looked_at = 200;

/// The last catch of this thread: nothing that goes wrong inside a deed may take the window down.
template <class Act>
std::optional<Error> caught(Act&& act) {
  try {
    act();
    return std::nullopt;
  } catch (const std::exception& failure) {
    return Error{Code::internal, say(Word::went_wrong_inside, {failure.what()})};
  }
}

}  // namespace

Desk::Desk(std::filesystem::path journal, Mailbox& mailbox, Replies replies)
    : path_{std::move(journal)}, mailbox_{mailbox}, replies_{std::move(replies)}, thread_{[this] { run(); }} {}

Desk::~Desk() {
  {
    const std::lock_guard lock{guard_};
    closing_ = true;
  }
  work_.notify_one();
  thread_.join();
  *alive_ = false;
}

void Desk::do_it(Deed deed) { put({std::move(deed), {}, {}}); }
void Desk::ask(Question question) { put({{}, std::move(question), {}}); }
void Desk::look_at(journal::SessionId session) { put({{}, {}, session}); }
void Desk::refresh() {
  put({[](store::Store&) { return Result<std::string>{std::string{}}; }, {}, {}});
}

void Desk::put(Errand errand) {
  {
    const std::lock_guard lock{guard_};
    errands_.push_back(std::move(errand));
  }
  work_.notify_one();
}

/// Nothing when the desk closes and all is done.
std::optional<Desk::Errand> Desk::take() {
  std::unique_lock lock{guard_};
  work_.wait(lock, [this] { return closing_ || !errands_.empty(); });
  if (errands_.empty()) return std::nullopt;
  Errand first = std::move(errands_.front());
  errands_.pop_front();
  return first;
}

void Desk::tell(Told told) {
  if (told.words.empty()) return;
  mailbox_.post([alive = alive_, reply = replies_.told, told = std::move(told)] {
    if (*alive && reply) reply(told);
  });
}

void Desk::run() {
  auto opened = actions::open_journal(path_);
  if (!opened) {
    mailbox_.post([alive = alive_, reply = replies_.not_opened, error = opened.error()] {
      if (*alive && reply) reply(error);
    });
    while (take()) continue;
    return;
  }
  store_.emplace(std::move(*opened));
  publish();
  while (const auto next = take()) {
    errand(*next);
    if (changed_) publish();
  }
  store_.reset();
}

void Desk::errand(const Errand& one) {
  const auto failure = caught([&] {
    if (one.session && session_ != one.session) {
      session_ = one.session;
      changed_ = true;
    }
    if (one.question) {
      mailbox_.post([alive = alive_, answer = one.question(*store_)] {
        if (*alive && answer) answer();
      });
    }
    if (one.deed) {
      const auto done = one.deed(*store_);
      changed_ = true;
      tell(done ? Told{*done, false} : Told{done.error().message(), true});
    }
  });
  if (failure) tell({failure->message(), true});
}

void Desk::choose_session(const std::vector<journal::Session>& sessions) {
  const bool there = session_ && std::any_of(sessions.begin(), sessions.end(),
                                             [&](const journal::Session& one) { return one.id == *session_; });
  if (there) return;
  session_ = sessions.empty() ? std::nullopt : std::optional{sessions.back().id};
}

/// What one edit can change and is read in a moment.
Done Desk::read_quick() {
  latest_.path = path_;
  auto build = store_->build();
  if (!build) return build.error();
  latest_.build = std::move(*build);
  const Done writable = store_->check_may_write();
  latest_.read_only = !writable && writable.error().code() == Code::denied ? writable.error().message() : "";
  auto known = store_->known();
  if (!known) return known.error();
  latest_.known = std::move(*known);
  const auto sessions = store_->sessions();
  if (!sessions) return sessions.error();
  choose_session(*sessions);
  latest_.bench = nullptr;
  if (session_) {
    auto bench = read_bench(*store_, latest_.known, latest_.build, *session_);
    if (!bench) return bench.error();
    latest_.bench = std::move(*bench);
  }
  const auto changes = store_->history(changes_looked_at);
  if (!changes) return changes.error();
  const Undoable could = undoable(*changes);
  latest_.undo = could.undo;
  latest_.redo = could.redo;
  return {};
}

void Desk::publish() {
  changed_ = false;
  const auto send = [this] {
    mailbox_.post([alive = alive_, reply = replies_.snapshot, snapshot = std::make_shared<const Snapshot>(latest_)] {
      if (*alive && reply) reply(snapshot);
    });
  };
  const auto failure = caught([&] {
    if (const Done read = read_quick(); !read) return tell({read.error().message(), true});
    send();
    {
      // The tables can wait while there is more to do: they are read once behind the last of several deeds.
      const std::lock_guard lock{guard_};
      if (!errands_.empty() && latest_.ledger) {
        changed_ = true;
        return;
      }
    }
    auto ledger = read_ledger(*store_, latest_.build);
    if (!ledger) return tell({ledger.error().message(), true});
    latest_.ledger = std::move(*ledger);
    send();
  });
  if (failure) tell({failure->message(), true});
}

}  // namespace jigtime::app
