// One function a screen: draws it from the model and does what is clicked. Each in a file of its name.
#pragma once

#include "app/model.h"

namespace jigtime::app {

void draw_start(Model& model);
void draw_sessions(Model& model);
void draw_bench(Model& model);
void draw_fasteners(Model& model);
void draw_ledger(Model& model);
void draw_items(Model& model);
void draw_names(Model& model);
void draw_find(Model& model);
void draw_help(Model& model);

/// Footage with the names of its cameras, to be named and taken away.
void draw_footage_lines(std::vector<ImportLine>& lines);

/// What a key of the ledger does.
void do_at_ledger(Model& model, Deed deed);

// Parts of the bench, top to bottom.
void draw_pictures(Model& model, ImVec2 size);
enum class Room { enough, tight };
void draw_transport(Model& model, Room room);
void draw_tagging(Model& model);
void draw_strip(Model& model, ImVec2 size);
/// Of the clicked clip, and how another is begun.
void draw_ties(Model& model);
/// Begins a tie at what the clicked clip shows now, or ends the one that was begun in another camera's clip.
void tie_here(Model& model);

/// What a key or button of the bench does.
void do_at_bench(Model& model, const Meaning& meaning);
/// Opens the line of text for one kind of words, about the instant on show.
void begin_entry(Model& model, EntryKind kind);
/// Enter in that line.
void take_entry(Model& model);

}  // namespace jigtime::app
