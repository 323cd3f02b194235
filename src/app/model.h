// Everything the window holds: the open journal, what each screen is about, and what was said last. Used on the
// window's thread only.
// Begin reading at: Model; deeds.h says what can be done with it.
#pragma once

#include <chrono>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "actions/sealing.h"
#include "actions/shelf.h"
#include "app/backroom/desk.h"
#include "app/backroom/jobs.h"
#include "app/backroom/lock.h"
#include "app/playback.h"
#include "app/view/composer.h"
#include "app/view/entry.h"
#include "app/view/keys.h"
#include "app/view/layout.h"
#include "app/view/loudness.h"
#include "app/view/settings.h"
#include "app/view/tie_ends.h"

namespace jigtime::app {

enum class Screen { start, sessions, bench, fasteners, ledger, items, names, find, help };

/// A span's edge or a clip that is being dragged along the strip.
struct Drag {
  enum class What { none, span_begin, span_end, clip, pan, seek };
  What what = What::none;
  std::int64_t id = 0;
  double from_x = 0;
  SessionTime from{};  ///< where the edge, the clip's begin or the window's begin was
  SessionTime to{};    ///< where it would be now
};

struct BenchState {
  journal::SessionId session{};
  StripWindow window;
  StripLayout layout;
  bool fit = true;                       ///< show the whole day at the next frame
  std::set<std::int64_t> selected;       ///< spans
  std::optional<std::int64_t> clip;      ///< whose place is told in words
  std::vector<std::string> why;          ///< the same in more words, once they have been read
  std::optional<std::int64_t> proposal;  ///< that is looked at
  std::optional<std::int64_t> mark;
  std::optional<TieEnd> tie_begun;  ///< the first of the two moments that show one event
  Drag drag;
  Entry entry;
  bool entry_opened = false;  ///< since the last frame: it takes the keyboard
  bool walking = false;       ///< the arrows walk from button to button instead of moving the film
  Composer composer;
  JumpTo jump = JumpTo::span;
  std::map<std::int64_t, Loudness> loudness;  ///< by clip
  float transport_height = 90;                ///< as it came out at the last frame
  double strip_wanted = 0;                    ///< height of the strip with all its rows, likewise
};

/// Footage about to be imported.
struct ImportLine {
  std::string camera;
  std::filesystem::path path;
};

struct StartState {
  bool new_open = false;
  std::string build;
  std::string place;
  std::string zone;
  std::string file;
  std::string path;                 ///< of a journal to open, typed
  std::vector<ImportLine> footage;  ///< dropped before there was a journal: goes into the next one that opens
  bool import_at_once = false;      ///< that one is made for it
};

struct SessionsState {
  std::vector<ImportLine> lines;
  std::string typed_path;
  std::string date;                 ///< YYYY-MM-DD; empty: told from the clocks
  std::vector<std::string> report;  ///< of the last import and line-up
  std::set<std::string> unfolded;   ///< cameras of which all clips without a place are listed
};

struct FastenersState {
  std::string task;
  std::string planned;
  std::string why_not;  ///< what was wrong with it at the last Enter
};

struct NamesState {
  actions::Shelved what = actions::Shelved::person;
  std::string fresh;
  std::string asked;   ///< to be added; it stays in its field until it is there
  std::string opened;  ///< the name that is being changed; empty for none
  std::string typed;
};

struct Amending {
  std::int64_t session = 0;  ///< whose entry, 0 for none
  std::string before;
  std::string after;
  std::string reason;
  bool opened = false;  ///< since the last frame: its first field takes the keyboard
  bool asked = false;   ///< it is on its way into the record
};

struct LedgerState {
  std::optional<actions::Verification> verified;
  int table = 0;             ///< by task, assembly, person, month
  std::int64_t sealing = 0;  ///< session asked about, 0 for none
  bool just_asked = false;   ///< since the last frame: the question is brought into sight
  Amending amending;
};

struct ItemsState {
  bool all = false;
  int kind = 0;
  std::string words;
  std::optional<std::int64_t> closing;
  std::string closing_words;
};

struct FindState {
  std::string text;
  std::string asked;
  std::string answered;  ///< what `hits` were found for
  bool entered = false;  ///< Enter was pressed; the answer is still to come
  std::vector<store::Hit> hits;
  int chosen = 0;
  bool focus = true;
};

class Model {
 public:
  explicit Model(std::function<void()> wake);
  Model(const Model&) = delete;
  Model& operator=(const Model&) = delete;

  const BenchView* bench_view() const { return snapshot && snapshot->bench ? snapshot->bench.get() : nullptr; }
  /// Precondition: there is a session at the bench; throws otherwise.
  const BenchView& view() const;
  const LedgerView* ledger_view() const { return snapshot && snapshot->ledger ? snapshot->ledger.get() : nullptr; }
  bool sealed() const;
  /// The day at the bench takes no edit: it is sealed, or the journal can only be read.
  bool fixed() const;
  /// In words. Precondition: fixed().
  std::string why_fixed() const;
  void tell(Told what);

  Mailbox mailbox;
  Settings settings;
  bool settings_changed = false;  ///< scale or paper: fonts and theme are made anew
  Jobs jobs;
  Playback playback;
  std::optional<Lock> lock;
  std::unique_ptr<Desk> desk;
  bool opening = false;
  bool copies_changed = false;         ///< the next snapshot brings other review copies
  journal::SessionId asked_session{};  ///< that the desk was told to look at last; it may still be coming
  std::shared_ptr<const Snapshot> snapshot;
  Screen screen = Screen::start;
  Screen before_help = Screen::start;
  Told told;
  bool wants_to_close = false;

  BenchState bench;
  StartState start;
  SessionsState sessions;
  FastenersState fasteners;
  NamesState names;
  LedgerState ledger;
  ItemsState items;
  FindState find;
};

}  // namespace jigtime::app
