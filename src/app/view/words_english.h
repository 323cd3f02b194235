// The window's words in English: X(name, sentence). {0}, {1} ... stand for what is filled in.
// Only words.h includes this.
#pragma once

// clang-format off
#define JIGTIME_WORDS(X) \
  X(tab_start, "Journals") \
  X(tab_sessions, "Sessions") \
  X(tab_bench, "Bench") \
  X(tab_fasteners, "Fasteners") \
  X(tab_ledger, "Ledger") \
  X(tab_items, "Open items") \
  X(tab_find, "Find") \
  X(tab_help, "Keys") \
  X(start_title, "Your build, session by session") \
  X(first_1, "1. Make a journal: one file for one aircraft.") \
  X(first_2, "2. Drop the cameras' folders onto this window. Every clip is put on one clock by its sound; no file of yours is changed.") \
  X(first_3, "3. At the bench, play the day and say what was done: B begins a span, E ends it. Hours and fasteners add up by themselves.") \
  X(last_journals, "Last journals") \
  X(no_journals, "None yet. Make a new one, or drop a .jigtime file here.") \
  X(new_journal, "A new journal") \
  X(new_journal_button, "New journal ...") \
  X(build_name, "Name of the build") \
  X(build_name_hint, "for example: Marten, serial 7") \
  X(build_place, "Where it is built") \
  X(build_place_hint, "may stay empty") \
  X(build_zone, "Time zone there") \
  X(build_zone_hint, "for example: Europe/Lisbon") \
  X(build_file, "File") \
  X(make_it, "Make the journal") \
  X(make_and_import, "Make the journal and import") \
  X(footage_waiting, "Footage for it, with the names of its cameras") \
  X(build_usual, "My build") \
  X(leave_it, "Leave it") \
  X(open_other, "Another journal") \
  X(open_other_do, "Drop the file onto this window, or type where it is.") \
  X(journal_path_hint, "/home/.../build.jigtime") \
  X(open_it, "Open") \
  X(opening, "Opening the journal ...") \
  X(open_first, "Open a journal first, or make a new one.") \
  X(build_needs_name, "The build needs a name: type it into the first line.") \
  X(no_such_journal, "There is no journal at {0}. Was the file moved?") \
  X(open_already, "{0} is open in another window already. Close that one first, or go on working there.") \
  X(jobs_first, "Something still runs on this journal. Let it end, or stop it below, before opening another one.") \
  X(drop_makes_journal, "Make a journal for this footage, or open one of yours: it comes along. The files stay where and as they are.") \
  X(no_screen, "There is no screen to open a window on ({0}). The command line does everything too: jigtime --help.") \
  X(no_opengl, "No window could be opened: this screen offers no OpenGL 3 ({0}). The command line does everything too: jigtime --help.") \
  X(went_wrong_inside, "Something went wrong inside ({0}). Everything you did is in the journal. Please report this.") \
  X(reading, "Reading ...") \
  X(failed_words, "Not done: {0}") \
  X(sessions_title, "Sessions of {0}") \
  X(sessions_empty, "No session yet") \
  X(sessions_empty_do, "Drop the folder of each camera's card onto this window. The day is told from the cameras' clocks and checked against each other; nothing is copied or changed.") \
  X(col_day, "Day") \
  X(col_hours, "Person-hours") \
  X(col_elapsed, "Elapsed") \
  X(col_untagged, "Untagged") \
  X(col_state, "State") \
  X(is_sealed, "Sealed") \
  X(is_open, "Open") \
  X(is_open_untagged, "Open, not all tagged") \
  X(add_footage, "Add footage") \
  X(add_footage_do, "Drop folders or files here, one for each camera, and name the cameras. Or type a path.") \
  X(camera_name_hint, "camera's name") \
  X(take_away, "Take away") \
  X(add_folder, "Add") \
  X(folder_hint, "/media/.../card") \
  X(no_such_folder, "There is nothing at {0}. Check the spelling, or drop the folder onto the window.") \
  X(import_day_hint, "2026-03-14, if the clocks are wrong") \
  X(import_now, "Import and line up") \
  X(camera_needs_name, "Every camera needs a name: bench, overhead ... Type it in front of its folder.") \
  X(nothing_to_import, "Nothing to import yet: drop a camera's folder onto the window.") \
  X(date_form, "The day is written 2026-03-14. Leave it empty to have it told from the clocks.") \
  X(what_came_of_it, "What came of it") \
  X(imported, "New clips: {0}. Files that were here already: {1}. Files that could not be read: {2}.") \
  X(import_done, "Imported and lined up. Play the day at the bench.") \
  X(lined_up, "{0}: clips placed by sound or by hand {1}, by their clock only {2}, not placed {3}.") \
  X(needs_you, "{0}: this needs you") \
  X(clip_unplaced, "{1}: {0} clip has no place yet") \
  X(clips_unplaced, "{1}: {0} clips have no place yet") \
  X(lay_do, "Line up first. What still has no place you lay by hand: show the moment at which it begins at the bench (F3), come back, and drag it from there.") \
  X(lay_here, "Lay at {0}") \
  X(clip_and_length, "{0} ({1})") \
  X(show_all, "Show all {0}") \
  X(show_few, "Show fewer") \
  X(to_the_bench, "To the bench") \
  X(line_up_again, "Line up again") \
  X(listen_again, "Listen for riveting") \
  X(make_copies, "Make review copies") \
  X(export_page, "Write the day's page") \
  X(exported_to, "The day's page and tables lie in {0}.") \
  X(runs_already, "This runs already: see below.") \
  X(job_import, "Import and line-up") \
  X(job_line_up, "Line-up") \
  X(job_detect, "Listening for riveting and breaks") \
  X(job_loudness, "Reading the sound") \
  X(job_verify, "Checking the seals") \
  X(job_export, "Writing the day's page") \
  X(job_copies, "Making review copies") \
  X(copies_made, "Review copies made: {0}. There already: {1}.") \
  X(job_stop, "Stop") \
  X(job_stopping, "{0} is being stopped ...") \
  X(left_moment, "a moment left") \
  X(left_seconds, "about {0} s left") \
  X(left_minutes, "about {0} min left") \
  X(left_hours, "about {0} h {1} min left") \
  X(bench_empty, "Nothing on the bench yet") \
  X(bench_empty_do, "A session comes with its footage: go to Sessions (F2) and drop the cameras' folders there.") \
  X(no_footage, "No footage in this session") \
  X(no_footage_do, "Drop the cameras' folders onto this window. What was tagged without a camera shows below.") \
  X(picture_coming, "Fetching the picture ...") \
  X(sound_only, "Sound only: this clip has no pictures") \
  X(off_between, "Off since {0}, back at {1}") \
  X(off_since, "Off since {0}, not again this day") \
  X(off_until, "Not yet on: begins at {0}") \
  X(off_until_brief, "on at {0}") \
  X(off_since_brief, "off since {0}") \
  X(off_all_day_brief, "no clip placed") \
  X(off_all_day, "No clip of this camera has a place on the day's clock") \
  X(on_the_clock, "{0} by the clock on the wall") \
  X(play, "Play") \
  X(stop, "Stop") \
  X(slower, "Slower") \
  X(faster, "Faster") \
  X(picture_before, "Picture back") \
  X(picture_next, "Picture on") \
  X(jump_to, "Jump by: {0}") \
  X(jump_span, "spans") \
  X(jump_mark, "marks") \
  X(jump_riveting, "riveting") \
  X(jump_dropout, "dropouts") \
  X(before, "Before") \
  X(next, "Next") \
  X(no_next, "None further on.") \
  X(no_before, "None before this.") \
  X(go_to_time, "Go to ...") \
  X(sound_of, "Hear: {0}") \
  X(no_sound, "nobody") \
  X(sound_off_now, "{0} (silent here)") \
  X(sound_too_fast, "{0} (too fast to hear)") \
  X(no_sound_device, "no sound device") \
  X(whole_day, "Whole day") \
  X(row_marks, "Marks") \
  X(row_heard, "Heard") \
  X(lane_empty, "no clip placed") \
  X(clip_placed, "Placed {0}, {1}") \
  X(clip_doubt, "Its place is in doubt:") \
  X(clip_vague, "Here its place is less sure, {0}: a loss lies in this stretch, and nothing was heard that tells where.") \
  X(weak_label, "? {0}  {1}") \
  X(weak_do, "To correct it, drag the clip along its lane until the pictures agree; Ctrl+Z takes it back. Or line up again under Sessions.") \
  X(drag_weak, "Drag it to put it right.") \
  X(drag_sure, "Ctrl and drag to move it by hand.") \
  X(off_for, "off {0}") \
  X(off_from_to, "{0} was off from {1} to {2}") \
  X(fastener_shown, "{0} x {1} {2}") \
  X(drilled_shown, "{0} of them drilled out") \
  X(heard_riveting, "{0} bursts of riveting") \
  X(heard_quiet, "Quiet: a break?") \
  X(heard_signal, "Hand signal") \
  X(heard_counts_for_nothing, "Heard, not tagged: it counts for nothing until you accept it (A).") \
  X(heard_one, "{0} thing was heard. It counts for nothing until you accept it.") \
  X(heard_many, "{0} things were heard. They count for nothing until you accept them.") \
  X(clip_moved, "{0} now begins at {1}, placed by hand.") \
  X(state_ready, "READY") \
  X(state_tagging, "TAGGING") \
  X(state_sealed, "SEALED: this day takes no further change") \
  X(state_read_only, "READ ONLY: the journal takes no change") \
  X(begin, "Begin") \
  X(end, "End") \
  X(pause, "Break") \
  X(task, "Task ...") \
  X(fasteners, "Fasteners ...") \
  X(note, "Note ...") \
  X(mark, "Mark ...") \
  X(waits, "Waits ...") \
  X(accept, "Accept") \
  X(people_head, "Who works (Shift and the number)") \
  X(person_other, "Somebody else ...") \
  X(people_none, "Nobody yet: P types a name.") \
  X(recent_head, "Task (its number)") \
  X(recent_none, "None yet: T types one.") \
  X(a_break, "Break") \
  X(no_task_yet, "no task yet") \
  X(nothing_runs, "No span is running. B begins one.") \
  X(needs_task, "Say the task first: its number, or T and its name. The span goes on meanwhile.") \
  X(ends_before, "The span begins at {0}, behind this moment. Go further on, or Esc drops it.") \
  X(tagging_from, "From {0}: {1}") \
  X(tagging_since, "Since {0} ({1}): {2}") \
  X(next_span, "Next: {0}") \
  X(dropped, "The span that ran was dropped.") \
  X(tagged, "Tagged: {0}, {1} - {2}.") \
  X(not_tagged, "The span was not tagged: {0}") \
  X(marked, "Marked {0}: {1}") \
  X(was_split, "Split at {0}.") \
  X(trimmed_begin, "Now begins at {0}.") \
  X(trimmed_end, "Now ends at {0}.") \
  X(nothing_to_split, "No span lies under this moment. Go into one, or click one, and press Shift+S.") \
  X(nothing_selected, "Nothing is selected. Click a span or a mark first.") \
  X(select_one, "Click one span first; its begin or end then moves to this moment.") \
  X(span_deleted, "{0} span deleted.") \
  X(spans_deleted, "{0} spans deleted.") \
  X(mark_deleted, "The mark was deleted.") \
  X(span_selected, "{0} span selected.") \
  X(spans_selected, "{0} spans selected.") \
  X(nothing_heard_here, "Nothing was heard here that could be accepted. Jump to riveting with J and Page Down.") \
  X(sealed_refuses, "This day is sealed and takes no further change. What turns out wrong is amended at the ledger (F5).") \
  X(split_here, "Split here") \
  X(begin_here, "Begin here") \
  X(end_here, "End here") \
  X(remove, "Delete") \
  X(undone, "Taken back: {0}.") \
  X(done_again, "Done again: {0}.") \
  X(undo_what, "Take back: {0}") \
  X(entry_task, "Task") \
  X(entry_task_hint, "type some letters of it, or a new one") \
  X(entry_fasteners, "Fasteners set in this span") \
  X(entry_fasteners_hint, "3-4 x 72   or   MS20426AD3-4 x 72-2") \
  X(entry_note, "Note of this span") \
  X(entry_note_hint, "what should be remembered") \
  X(entry_person, "Who else works") \
  X(entry_person_hint, "their name") \
  X(entry_mark, "Mark at {0}") \
  X(entry_mark_hint, "why to come back here") \
  X(entry_waits, "Waits since {0}") \
  X(entry_waits_hint, "tool: or part, answer, inspection, redo; then what") \
  X(entry_go_to, "Go to") \
  X(entry_go_to_hint, "1:02:03   12:30   +30   -30") \
  X(entry_keys, "Enter takes it, Esc leaves it, Tab completes. The film goes on.") \
  X(fastener_form, "Fasteners are typed like 3-4 x 72, or 3-4 x 72-2 squeezed: call-out, how many set, how many of them drilled out, how.") \
  X(short_unknown, "No rivet of size {0} is planned or was set yet. Type the whole call-out once: MS20426AD{0} x 72.") \
  X(short_several, "{0} could be {1}. Type the sheet's last digits in front, 426 or 470.") \
  X(method_unknown, "\"{0}\" is none of driven, squeezed, pulled.") \
  X(waits_form, "Begin with part, tool, answer, inspection or redo, then what it is: tool 12 inch drill.") \
  X(time_form, "Times are typed like 1:02:03, 12:30 (minutes and seconds), 90 (seconds), +30 or -30.") \
  X(fasteners_title, "Planned against set") \
  X(fasteners_empty, "No fasteners yet") \
  X(fasteners_empty_do, "They come from the spans: press F at the bench while you tag, and type 3-4 x 72. What the drawing asks for is typed above.") \
  X(plan_do, "What the drawing asks for: the task, then call-out x how many. 0 takes it out of the plan. Click a line to change it.") \
  X(plan_task_hint, "task") \
  X(plan_hint, "3-4 x 72   or   3-4 x 72 @0.064") \
  X(plan_now, "Plan it") \
  X(plan_form, "A plan is typed like 3-4 x 72, or 3-4 x 72 @0.064 with the thickness of the stack in inches; 0 takes it out.") \
  X(plan_needs_task, "Say first for which task: type it into the first field.") \
  X(planned_for, "Planned for {0}: {1}.") \
  X(planned_new_task, "New task \"{0}\". Planned for it: {1}.") \
  X(names_title, "Names") \
  X(names_people, "People") \
  X(names_assemblies, "Assemblies") \
  X(names_tasks, "Tasks") \
  X(names_empty, "None yet") \
  X(names_empty_do, "Names come from what you tag at the bench. Or type one above.") \
  X(name_hint, "a new name") \
  X(name_path_hint, "Tail / Elevator, left") \
  X(name_add, "Add") \
  X(name_change, "Change ...") \
  X(name_rename, "Rename") \
  X(name_merge, "They are the same") \
  X(name_merge_what, "{0} then counts as {1}, wherever it is not sealed.") \
  X(name_put_away, "Put away") \
  X(name_put_back, "Offer again") \
  X(name_is_away, "{0} (put away)") \
  X(name_added, "Added: {0}.") \
  X(name_changed, "{0} is called {1} now. Sealed entries keep the old name.") \
  X(name_merged, "{0} counts as {1} now.") \
  X(name_away, "{0} is put away: no longer offered, nothing else changes.") \
  X(name_back, "{0} is offered again.") \
  X(role_changed, "{0} is {1} from now on, in all that is not sealed.") \
  X(col_name, "Name") \
  X(col_change, "Change") \
  X(amend_begin, "Amend ...") \
  X(amend_do, "The entry stays as it is. What you write here is appended, sealed at once, and cannot be taken back.") \
  X(amend_before, "what the entry says") \
  X(amend_after, "what is right") \
  X(amend_reason, "why") \
  X(amend_now, "Append and seal") \
  X(amend_needs_reason, "An amendment needs its reason: type it into the last field.") \
  X(amended_as, "Appended as entry {0}. Both stay in the record.") \
  X(entry_amended, "\"{0}\" should be \"{1}\": {2}") \
  X(reword, "Other words ...") \
  X(entry_reword, "What the mark at {0} says") \
  X(mark_changed, "The mark at {0} now says: {1}") \
  X(do_reword, "the selected mark in other words") \
  X(select_mark_reword, "Click a mark first; then its words can be changed.") \
  X(select_mark, "Click a mark first; its words then stand at this moment too.") \
  X(mark_copied, "The mark stands at {0} too.") \
  X(copy_here, "Copy here") \
  X(tie_begin, "Tie what is seen here") \
  X(tie_end, "Tie to what is seen here") \
  X(tie_begun, "To be tied: {0}. Another camera's clip shows the same when?") \
  X(tie_go_on, "{0}. Now click a clip of another camera, go to where it shows the same event, and say so there.") \
  X(select_clip, "Click a clip first that shows the event.") \
  X(do_tie, "tie the event that the clicked clip shows here to another camera's clip") \
  X(tie_outside, "This clip does not show this moment. Go to where it shows the event.") \
  X(tie_moment, "{0} at {1}") \
  X(tie_is, "Tied: {0} is {1}.") \
  X(tie_remove, "Untie") \
  X(tied, "Tied: {0} is {1}. Line up again under Sessions (F2) to lay them together.") \
  X(untied, "Untied. The next line-up no longer holds it.") \
  X(do_copy_mark, "the selected mark once more, here") \
  X(tab_names, "Names") \
  X(do_go_names, "Names of people, assemblies, tasks") \
  X(col_task, "Task") \
  X(col_callout, "Call-out") \
  X(col_against_plan, "Against the plan") \
  X(col_set, "Set") \
  X(col_drilled, "Drilled out") \
  X(bar_left, "{0} of {1}, {2} left") \
  X(bar_over, "{0} of {1}, {2} over") \
  X(bar_unplanned, "{0}, not in the plan") \
  X(second_look, "Worth a second look") \
  X(hours_title, "Hours") \
  X(totals, "Person-hours {0}, elapsed {1}, of it unfilmed {2}. Untagged footage, not counted: {3}.") \
  X(by_task, "By task") \
  X(by_assembly, "By assembly") \
  X(by_person, "By person") \
  X(by_month, "By month") \
  X(no_assembly, "(no assembly)") \
  X(hours_empty, "No hours yet: tag a span at the bench.") \
  X(col_what, "What") \
  X(col_role, "Role") \
  X(col_unfilmed, "Unfilmed") \
  X(entries_title, "Entries and seals") \
  X(entries_empty, "No entry is sealed yet. Sealing makes a day's entry final and chains it to the one before.") \
  X(entry_seals, "Entry {0}: {1}") \
  X(entry_amends, "Entry {0} amends {1}") \
  X(entry_when, "sealed {0}") \
  X(entry_digest, "digest {0}") \
  X(verify_now, "Check all seals") \
  X(verify_good, "{0} entries, all as they were sealed.") \
  X(verify_bad, "{0} entries checked; this does not fit:") \
  X(verify_missing, "Not where it was: {0}") \
  X(verified_sound, "All entries are as they were sealed.") \
  X(verified_not, "Something does not fit: see the ledger.") \
  X(nothing_to_seal, "The day on the bench is sealed already, or there is none. Choose a day under Sessions.") \
  X(col_assembly, "Assembly") \
  X(seal_day, "Seal {0} ...") \
  X(seal_sure, "Seal {0}? The day then takes no further change; only amendments with a reason. This cannot be taken back.") \
  X(seal_now, "Seal it") \
  X(sealed_as, "Sealed as entry {0}. The entry is your record; findings are the authority's.") \
  X(ledger_empty, "No hours and no entries yet") \
  X(ledger_empty_do, "They come from tagged sessions: import footage under Sessions (F2), tag it at the bench (F3), then seal the day here.") \
  X(items_title, "What waits") \
  X(item_new, "Something new that waits:") \
  X(item_hint, "what it is") \
  X(item_add, "Add") \
  X(item_opened, "Waits from now on: {0}, {1}.") \
  X(item_close, "Done ...") \
  X(item_close_now, "Done") \
  X(item_closing_hint, "how it ended") \
  X(item_closed, "Closed.") \
  X(item_closed_on, "{0} {1}") \
  X(item_reopen, "Waits again") \
  X(item_reopened, "It waits again.") \
  X(item_since, "{0}, {1} days") \
  X(item_look, "Look") \
  X(items_all, "Show closed ones too") \
  X(items_waiting_only, "Show only what waits") \
  X(items_empty, "Nothing waits") \
  X(items_empty_do, "When work stops for a part, a tool, an answer, an inspection or a redo, press W at the bench, or type it above. It stays here until it is done.") \
  X(col_waits_for, "Waits for") \
  X(col_since, "Since") \
  X(col_closed, "Closed") \
  X(find_title, "Find") \
  X(find_hint, "task, note, mark, call-out, file name ...") \
  X(find_empty, "Everything you ever wrote down") \
  X(find_empty_do, "Type a word, or the begin of one. Up and Down choose, Enter jumps to the picture.") \
  X(find_nothing, "Nothing found") \
  X(find_nothing_do, "All words must occur in one note, mark, item or entry; beginnings of words are enough. Try fewer or shorter ones.") \
  X(hit_one, "{0} hit. Enter jumps to the picture.") \
  X(hit_many, "{0} hits. Up and Down choose, Enter jumps to the picture.") \
  X(hit_span, "span") \
  X(hit_mark, "mark") \
  X(hit_item, "waits") \
  X(hit_entry, "entry") \
  X(hit_inspection, "inspection") \
  X(hit_photo, "photo") \
  X(hit_session, "session") \
  X(col_at, "At") \
  X(col_kind, "Kind") \
  X(col_words, "Words") \
  X(keys_everywhere, "Everywhere") \
  X(keys_tag, "At the bench: saying what was done") \
  X(keys_film, "At the bench: the film") \
  X(keys_strip, "At the bench: the day strip") \
  X(keys_ledger, "At the ledger") \
  X(key_space, "Space") \
  X(key_escape, "Esc") \
  X(key_enter, "Enter") \
  X(key_tab, "Tab") \
  X(key_delete, "Del") \
  X(key_right, "Right") \
  X(key_left, "Left") \
  X(key_down, "Down") \
  X(key_up, "Up") \
  X(key_page_up, "Page Up") \
  X(key_page_down, "Page Down") \
  X(key_home, "Home") \
  X(key_end, "End") \
  X(key_pad_add, "Keypad +") \
  X(key_pad_subtract, "Keypad -") \
  X(key_control, "Ctrl") \
  X(key_shift, "Shift") \
  X(key_and, " and ") \
  X(key_digits, "1 to 9") \
  X(do_help, "this list, and back") \
  X(do_go_sessions, "Sessions") \
  X(do_go_bench, "Bench") \
  X(do_go_fasteners, "Fasteners") \
  X(do_go_ledger, "Ledger") \
  X(do_go_items, "Open items") \
  X(do_go_find, "Find") \
  X(do_undo, "take back what was done last") \
  X(do_redo, "do it again") \
  X(do_bigger, "bigger text") \
  X(do_smaller, "smaller text") \
  X(do_quit, "close the window; everything is kept already") \
  X(do_begin, "begin a span here (one that runs ends here)") \
  X(do_end, "end it here") \
  X(do_pause, "begin a break here") \
  X(do_recent, "choose the task with that number") \
  X(do_person, "this person works, or not") \
  X(do_person_typed, "type somebody who is not listed yet") \
  X(do_task, "type a task") \
  X(do_fasteners, "type fasteners: 3-4 x 72") \
  X(do_note, "type a note of the span") \
  X(do_drop, "drop the span that runs; let go of what is selected") \
  X(do_mark, "mark this moment") \
  X(do_waits, "something waits: part, tool, answer, inspection, redo") \
  X(do_accept, "accept what was heard here") \
  X(do_play, "play, stop") \
  X(do_faster, "twice as fast, up to 16x") \
  X(do_slower, "half as fast, down to 0.25x") \
  X(do_normal, "real time") \
  X(do_back_5, "5 seconds back") \
  X(do_on_5, "5 seconds on") \
  X(do_back_60, "1 minute back") \
  X(do_on_60, "1 minute on") \
  X(do_picture_back, "one picture back") \
  X(do_picture_on, "one picture on") \
  X(do_jump_on, "next span, mark, riveting or dropout") \
  X(do_jump_back, "the one before") \
  X(do_jump_kind, "choose which of these") \
  X(do_go_to, "type a time to go to") \
  X(do_day_begin, "begin of the day") \
  X(do_day_end, "end of the day") \
  X(do_sound, "hear the next camera, or nobody") \
  X(do_zoom_in, "show less time") \
  X(do_zoom_out, "show more time") \
  X(do_zoom_day, "show the whole day") \
  X(do_split, "split the span here") \
  X(do_trim_begin, "the selected span begins here") \
  X(do_trim_end, "the selected span ends here") \
  X(do_remove, "delete what is selected") \
  X(do_seal, "seal the day that is on the bench: asks first") \
  X(do_seal_sure, "yes, seal it") \
  X(do_verify, "check all seals") \
  X(mouse_title, "With the mouse") \
  X(mouse_words, "Click or drag on the strip to go there. The wheel zooms at the pointer, Shift and the wheel move along, so does dragging with the middle button. Click a span to select it, Ctrl-click selects more; drag its ends to trim it. Click a clip to read how it was placed. At the bench Tab lets the arrow keys walk from button to button, Space presses one, Esc goes back to the film.") \
  X(looks, "How it looks") \
  X(to_light, "Light") \
  X(to_dark, "Dark") \
  X(bigger, "Bigger") \
  X(smaller, "Smaller") \
  X(text_size, "Text {0} %") \
  X(copies_title, "Review copies") \
  X(copies_words, "Small copies that are quick to seek in; they may be deleted at any time. At most {0} GB, the longest unused go first.") \
  X(copies_less, "Less room") \
  X(copies_more, "More room")
// clang-format on
