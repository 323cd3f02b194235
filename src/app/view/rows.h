// The rows of the day strip: what of a session lies where in time, worked out once after each edit.
// Must never know: pixels, the window shown, ImGui.
// Begin reading at: rows_of.
#pragma once

#include <string>
#include <vector>

#include "journal/values.h"
#include "report/day.h"

namespace jigtime::app {

enum class ItemKind { clip, dropout, span, mark, proposal };

/// How an item looks. Each differs by more than its colour: outline, hatching, words.
enum class ItemLook { by_sound, by_hand, by_clock, dropout, work, pause, mark, riveting, quiet, signal };

struct StripItem {
  ItemKind kind = ItemKind::clip;
  ItemLook look = ItemLook::by_sound;
  SessionRange range = *SessionRange::make(SessionTime{}, SessionTime{Length{1}});
  std::int64_t id = 0;  ///< of the clip, span, mark or proposal; of a dropout its place in the row
  std::string label;    ///< drawn inside, elided
  std::string about;    ///< the full words, shown under the pointer
  int sub_row = 0;      ///< within the row
  Length doubt{0};      ///< standard error of a clip's place, where it is worth showing; else zero
  bool weak = false;    ///< its place rests on little: says so, in words, on click
  bool vague = false;   ///< a stretch of a clip that is less sure than the rest of it
  int tone = 0;         ///< which of the work colours; the same task has the same one
};

enum class RowKind { marks, camera, person, heard };

struct StripRow {
  RowKind kind = RowKind::camera;
  std::string name;
  std::string about;
  journal::CameraId camera{};  ///< of a camera row
  int sub_rows = 1;
  std::vector<StripItem> items;  ///< by begin
  Length longest{0};             ///< the longest item: how far back one must look for those that reach into a window
};

struct StripRows {
  std::vector<StripRow> rows;
  SessionRange whole = *SessionRange::make(
      SessionTime{},
      SessionTime{std::chrono::minutes{1}});  ///< everything there is, from zero on; a minute where there is nothing
  bool empty = true;
};

/// Marks first, then a row a camera, a row a person, and what was heard.
StripRows rows_of(const report::Day& day, const journal::Register& known, const journal::SessionRecord& record);

inline constexpr int work_tones = 5;
/// The same for the same task, spread over the tones.
int tone_of(std::optional<journal::TaskId> task);

}  // namespace jigtime::app
