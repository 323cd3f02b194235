// Which key does what. The letters are the first letters of the English words that stand on the buttons.
// Must never know: GLFW, ImGui (window.cpp checks that the numbers below are GLFW's).
// Begin reading at: deed_for, then the table in keys.cpp.
#pragma once

#include <optional>
#include <span>

#include "app/view/words.h"

namespace jigtime::app {

/// Letters, digits and signs are their own upper-case characters.
enum Key : int {
  key_space = 32,
  key_escape = 256,
  key_enter = 257,
  key_tab = 258,
  key_delete = 261,
  key_right = 262,
  key_left = 263,
  key_down = 264,
  key_up = 265,
  key_page_up = 266,
  key_page_down = 267,
  key_home = 268,
  key_end = 269,
  key_f1 = 290,
  key_pad_add = 334,
  key_pad_subtract = 333,
};

struct Press {
  int key = 0;
  bool shift = false;
  bool control = false;
  friend bool operator==(const Press&, const Press&) = default;
};

enum class Deed {
  none,
  // everywhere
  help,
  go_sessions,
  go_bench,
  go_fasteners,
  go_ledger,
  go_items,
  go_names,
  go_find,
  undo,
  redo,
  bigger,
  smaller,
  quit,
  // at the bench: the film
  play,
  slower,
  faster,
  normal_speed,
  back_5,
  on_5,
  back_60,
  on_60,
  picture_back,
  picture_on,
  day_begin,
  day_end,
  jump_back,
  jump_on,
  jump_kind,
  go_to_time,
  sound_next,
  zoom_in,
  zoom_out,
  zoom_day,
  // at the bench: the record
  begin,
  end,
  pause,
  drop,
  task_typed,
  fasteners,
  note,
  mark,
  split,
  trim_begin,
  trim_end,
  remove,
  copy_mark,
  reword_mark,
  tie,
  waits,
  accept,
  recent_task,  ///< with its number
  person,       ///< with their number
  person_typed,
  // at the ledger
  seal,
  seal_sure,
  verify,
};

struct Meaning {
  Deed deed = Deed::none;
  int number = 0;  ///< of a recent task or a person, from 0
  friend bool operator==(const Meaning&, const Meaning&) = default;
};

enum class Where { everywhere, bench, ledger };

/// What a key press does on a screen; nothing where it does nothing. Keys of everywhere hold on every screen.
std::optional<Meaning> deed_for(const Press& press, Where where);

/// One line of the key list.
struct KeyLine {
  Where where = Where::everywhere;
  Word group;
  Press press;
  Deed deed = Deed::none;
  Word does;
};
/// Everything there is, in the order of the key list.
std::span<const KeyLine> all_keys();

/// "Ctrl+Z", "Page Down", "1 to 9" as the key list shows it.
std::string key_text(const Press& press);
/// The key of a deed, for the button that does the same; empty when it has none.
std::string key_of(Deed deed);

}  // namespace jigtime::app
