// What the window can do, each by a function of actions: at once on the desk, or as a job when it is slow.
// Begin reading at: open_journal. All return at once.
#pragma once

#include "app/model.h"

namespace jigtime::app {

/// Another journal that was open is closed first.
void open_journal(Model& model, const std::filesystem::path& path);
void new_journal(Model& model, const std::filesystem::path& path, const journal::Build& build);
void close_journal(Model& model);
/// Files or folders dropped on the window: a journal is opened, folders become cameras to import.
void take_dropped(Model& model, const std::vector<std::filesystem::path>& paths);

void undo(Model& model);
void redo(Model& model);

void add_span(Model& model, actions::SpanWords words);
void add_mark(Model& model, SessionTime at, std::string note);
void split_spans(Model& model, SessionTime at);
void trim_span(Model& model, std::int64_t span, std::optional<SessionTime> from, std::optional<SessionTime> to);
/// The selected spans or the selected mark.
void remove_selected(Model& model);
/// Of the day at the bench; nothing when it is gone.
const journal::Mark* mark_of(const Model& model, std::int64_t mark);
/// Other words for a mark that is there.
void reword_mark(Model& model, std::int64_t mark, std::string words);
/// The selected mark's words once more, at another moment.
void copy_mark(Model& model, SessionTime to);
void open_item(Model& model, Waiting waiting, std::optional<SessionTime> at);
void close_item(Model& model, std::int64_t item, std::string words);
void reopen_item(Model& model, std::int64_t item);
/// A break that was heard becomes a break; riveting becomes a span of the composer's task.
void accept_proposal(Model& model, std::int64_t proposal);
/// One event that two clips show; the next line-up lays them together there.
void tie_clips(Model& model, const actions::FileMoment& a, const actions::FileMoment& b);
void untie_clips(Model& model, journal::TieId tie);
/// Why the clip lies where it lies, in plain words: into the bench's `why`.
void ask_why(Model& model, std::int64_t clip);
/// Moves a clip so that its first picture lies at `at`: a placement by hand, which the next line-up holds.
void place_clip(Model& model, std::int64_t clip, SessionTime at);
/// The same for the clip that holds a file of that name.
void place_file(Model& model, std::string name, SessionTime at);

void add_named(Model& model, actions::Shelved what, std::string name);
void rename_named(Model& model, actions::Shelved what, std::string name, std::string to);
/// `name` was `into` all along.
void merge_named(Model& model, actions::Shelved what, std::string name, std::string into);
void put_named(Model& model, actions::Shelved what, std::string name, actions::Place place);
void change_role(Model& model, std::string name, journal::Role role);
/// What the drawing asks for in a task, as actions take it: CALLOUT=COUNT[@GRIP]. The task is added if it is new.
void plan_fasteners(Model& model, std::string task, std::string planned);

void look_at_session(Model& model, journal::SessionId session);
/// To the bench, at that moment.
void go_to(Model& model, journal::SessionId session, std::optional<SessionTime> at);

void import_footage(Model& model);
void line_up(Model& model);
void detect(Model& model);
void make_copies(Model& model);
void read_loudness(Model& model);
void seal(Model& model, journal::SessionId session);
/// Appends to a sealed entry that something in it is wrong. Cannot be taken back.
void amend(Model& model, const Amending& words);
void verify(Model& model);
void export_session(Model& model);
void search(Model& model);

}  // namespace jigtime::app
