// Sessions: all of them with hours and state, and how footage comes in.
#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "app/view/unplaced.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

namespace fs = std::filesystem;

/// False when it is taken away.
bool draw_line(ImportLine& line) {
  input("##camera", line.camera, say(Word::camera_name_hint), em(9));
  ImGui::SameLine();
  const float away = button_width(say(Word::take_away));
  elided_path(to_utf8(line.path.string()), std::max(ImGui::GetContentRegionAvail().x - away - em(), em(3)));
  ImGui::SameLine();
  return !button(Word::take_away);
}

void add_typed(Model& model) {
  const std::string_view typed = trimmed(model.sessions.typed_path);
  if (typed.empty()) return;
  std::error_code failure;
  const fs::path path{std::string{typed}};
  if (!fs::exists(path, failure)) return model.tell({say(Word::no_such_folder, {to_utf8(path.string())}), true});
  take_dropped(model, {path});
  model.sessions.typed_path.clear();
}

void draw_import(Model& model) {
  heading(say(Word::add_footage));
  dim(say(Word::add_footage_do));
  draw_footage_lines(model.sessions.lines);
  const float width = std::max(ImGui::GetContentRegionAvail().x - button_width(say(Word::add_folder)) - em(1), em(8));
  const bool taken =
      input("##folder", model.sessions.typed_path, say(Word::folder_hint), width, ImGuiInputTextFlags_EnterReturnsTrue);
  ImGui::SameLine();
  if (button(Word::add_folder) || taken) add_typed(model);
  if (model.sessions.lines.empty()) return;
  input("##day", model.sessions.date, say(Word::import_day_hint), em(17));
  ImGui::SameLine();
  if (button(Word::import_now, Deed::none, Weight::strong)) import_footage(model);
}

void draw_report(const Model& model) {
  if (model.sessions.report.empty()) return;
  heading(say(Word::what_came_of_it));
  for (const std::string& line : model.sessions.report) wrapped(line);
}

/// Days in words where there is room for the longest, else in digits: never without their year.
bool days_in_words() {
  using namespace std::chrono;
  const std::string longest = report::date_words(2026y / September / 30d);
  return ImGui::CalcTextSize(longest.c_str()).x <= ImGui::GetContentRegionAvail().x;
}

void draw_table(Model& model, const LedgerView& ledger) {
  if (!begin_table("sessions", {Word::col_day, Word::col_hours, Word::col_elapsed, Word::col_untagged, Word::col_state},
                   {3.5F, 1.6F, 1.05F, 1.15F, 2.2F}))
    return;
  for (const SessionLine& line : ledger.sessions) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const bool here = line.session.id == model.bench.session;
    const std::string day = days_in_words() ? report::date_words(line.session.date) : to_text(line.session.date);
    if (ImGui::Selectable((day + "##" + std::to_string(line.session.id.value)).c_str(), here,
                          ImGuiSelectableFlags_SpanAllColumns)) {
      go_to(model, line.session.id, std::nullopt);
    }
    for (const Length length : {line.hours.person_time, line.hours.elapsed, line.hours.untagged}) {
      ImGui::TableNextColumn();
      ImGui::TextUnformatted(to_short_clock_text(length).c_str());
    }
    ImGui::TableNextColumn();
    wrapped(say(line.sealed                       ? Word::is_sealed
                : line.hours.untagged > Length{0} ? Word::is_open_untagged
                                                  : Word::is_open),
            line.sealed ? palette().good : palette().text);
  }
  ImGui::EndTable();
}

/// A clip that nothing places can be laid at the moment on show, from where it is dragged.
void draw_unplaced_clip(Model& model, const report::UnplacedClip& clip) {
  const std::string lay = say(Word::lay_here, {to_short_clock_text(model.playback.position().time_since_epoch())});
  const bool can_be_laid = !model.fixed() && !clip.files.empty();
  const float room = ImGui::GetContentRegionAvail().x - (can_be_laid ? button_width(lay) + em() : 0);
  ImGui::AlignTextToFramePadding();
  elided(say(Word::clip_and_length, {clip.name, report::length_words(clip.length)}), room);
  if (!can_be_laid) return;
  ImGui::SameLine();
  ImGui::PushID(clip.files.front().c_str());
  if (button(lay)) place_file(model, clip.files.front(), model.playback.position());
  ImGui::PopID();
}

void draw_group(Model& model, const UnplacedGroup& group) {
  wrapped(
      say(group.count == 1 ? Word::clip_unplaced : Word::clips_unplaced, {std::to_string(group.count), group.camera}),
      palette().bad);
  for (const UnplacedLine& line : group.lines) {
    draw_unplaced_clip(model, *line.clip);
    if (line.tells_why) dim(line.clip->why);
  }
  if (!group.folds()) return;
  ImGui::PushID(group.camera.c_str());
  std::set<std::string>& unfolded = model.sessions.unfolded;
  if (unfolded.contains(group.camera)) {
    if (button(Word::show_few)) unfolded.erase(group.camera);
  } else if (button(say(Word::show_all, {std::to_string(group.count)}))) {
    unfolded.insert(group.camera);
  }
  ImGui::PopID();
}

void draw_unplaced(Model& model) {
  const BenchView* view = model.bench_view();
  if (view == nullptr || (view->day.unplaced.empty() && view->record.unreadable.empty())) return;
  heading(say(Word::needs_you, {report::date_words(view->record.session.date)}));
  if (!view->day.unplaced.empty() && !model.fixed()) dim(say(Word::lay_do));
  for (const UnplacedGroup& group : by_camera(view->day.unplaced, model.sessions.unfolded)) draw_group(model, group);
  for (const journal::Unreadable& file : view->record.unreadable) {
    wrapped(to_utf8(file.path.filename().string()), palette().bad);
    dim(file.why);
  }
}

void draw_deeds(Model& model) {
  const BenchView* view = model.bench_view();
  if (view == nullptr || view->record.clips.empty()) return;
  heading(report::date_words(view->record.session.date));
  if (button(Word::to_the_bench, Deed::go_bench, Weight::strong)) model.screen = Screen::bench;
  if (!model.fixed()) {
    flow(button_width(say(Word::line_up_again)));
    if (button(Word::line_up_again)) line_up(model);
    flow(button_width(say(Word::listen_again)));
    if (button(Word::listen_again)) detect(model);
  }
  flow(button_width(say(Word::make_copies)));
  if (button(Word::make_copies)) make_copies(model);
  flow(button_width(say(Word::export_page)));
  if (button(Word::export_page)) export_session(model);
}

}  // namespace

void draw_footage_lines(std::vector<ImportLine>& lines) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    const bool kept = draw_line(lines[i]);
    ImGui::PopID();
    if (!kept) return static_cast<void>(lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(i)));
  }
}

void draw_sessions(Model& model) {
  const LedgerView* ledger = model.ledger_view();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool two = width > em(56);
  ImGui::BeginChild("sessions left", {two ? width * 0.6F : 0, two ? 0 : ImGui::GetContentRegionAvail().y / 2}, false);
  heading(say(Word::sessions_title, {model.snapshot ? model.snapshot->build.name : std::string{}}));
  if (ledger == nullptr) {
    dim(say(Word::reading));
  } else if (ledger->sessions.empty()) {
    empty_state(Word::sessions_empty, Word::sessions_empty_do);
  } else {
    draw_table(model, *ledger);
  }
  ImGui::EndChild();
  if (two) ImGui::SameLine();
  ImGui::BeginChild("sessions right", {0, 0}, false);
  draw_import(model);
  draw_deeds(model);
  draw_report(model);
  draw_unplaced(model);
  ImGui::EndChild();
}

}  // namespace jigtime::app
