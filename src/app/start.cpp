// Start: the last journals, a new one, or one dropped in; the first run explains itself in three lines.
#include <algorithm>

#include "actions/zone.h"
#include "app/backroom/settings_file.h"
#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

namespace fs = std::filesystem;

void draw_explained() {
  for (const Word line : {Word::first_1, Word::first_2, Word::first_3}) {
    wrapped(say(line));
  }
  ImGui::Dummy({0, em(0.5F)});
}

void draw_last(Model& model) {
  heading(say(Word::last_journals));
  if (model.settings.journals.empty()) dim(say(Word::no_journals));
  const std::vector<fs::path> journals = model.settings.journals;
  for (const fs::path& journal : journals) {
    const std::string name = to_utf8(journal.stem().string());
    ImGui::PushID(journal.c_str());
    if (button(name, Deed::none, Weight::plain, std::min(em(26), ImGui::GetContentRegionAvail().x)))
      open_journal(model, journal);
    elided_path(to_utf8(journal.parent_path().string()), ImGui::GetContentRegionAvail().x, palette().dim);
    ImGui::PopID();
  }
}

/// A file name that any file system takes, out of the build's name.
std::string file_name_for(const std::string& build) {
  std::string name;
  for (const char c : build) {
    const bool plain =
        static_cast<unsigned char>(c) >= 0x80 || std::string_view{"/\\:*?\"<>|"}.find(c) == std::string_view::npos;
    name += plain && static_cast<unsigned char>(c) >= 0x20 ? c : '-';
  }
  return name.substr(0, name.find(','));
}

fs::path path_of(const StartState& start) {
  const std::string_view typed = trimmed(start.file);
  if (!typed.empty()) return fs::path{std::string{typed}};
  const std::string name = file_name_for(std::string{trimmed(start.build)});
  return documents_folder() / ((name.empty() ? std::string{"build"} : name) + ".jigtime");
}

void make_new(Model& model) {
  journal::Build build;
  build.name = trimmed(model.start.build);
  build.place = trimmed(model.start.place);
  build.zone = trimmed(model.start.zone);
  if (build.name.empty()) return model.tell({std::string{say(Word::build_needs_name)}, true});
  fs::path path = path_of(model.start);
  if (path.extension() != ".jigtime") path += ".jigtime";
  new_journal(model, path, build);
}

void draw_new(Model& model) {
  StartState& start = model.start;
  heading(say(Word::new_journal));
  const float width = std::min(em(26), ImGui::GetContentRegionAvail().x);
  if (!start.new_open) {
    if (button(Word::new_journal_button, Deed::none, model.settings.journals.empty() ? Weight::strong : Weight::plain,
               width)) {
      start.new_open = true;
      start.zone = actions::Zone::here();
    }
    return;
  }
  dim(say(Word::build_name));
  input("##build", start.build, say(Word::build_name_hint), width);
  dim(say(Word::build_place));
  input("##place", start.place, say(Word::build_place_hint), width);
  dim(say(Word::build_zone));
  input("##zone", start.zone, say(Word::build_zone_hint), width);
  dim(say(Word::build_file));
  const float inside = width - 2 * ImGui::GetStyle().FramePadding.x;
  input("##file", start.file, shortened_path(to_utf8(path_of(start).string()), inside).c_str(), width);
  if (!start.footage.empty()) {
    dim(say(Word::footage_waiting));
    draw_footage_lines(start.footage);
  }
  if (button(start.footage.empty() ? Word::make_it : Word::make_and_import, Deed::none, Weight::strong))
    make_new(model);
  ImGui::SameLine();
  if (button(Word::leave_it)) {
    start.new_open = false;
    start.footage.clear();
  }
}

void draw_open(Model& model) {
  heading(say(Word::open_other));
  dim(say(Word::open_other_do));
  const float width = std::min(em(26), ImGui::GetContentRegionAvail().x);
  const bool taken =
      input("##path", model.start.path, say(Word::journal_path_hint), width, ImGuiInputTextFlags_EnterReturnsTrue);
  if (button(Word::open_it) || taken) {
    if (!trimmed(model.start.path).empty()) open_journal(model, fs::path{std::string{trimmed(model.start.path)}});
  }
}

}  // namespace

void draw_start(Model& model) {
  const bool footage_waits = !model.start.footage.empty();
  heading(say(Word::start_title));
  if (!footage_waits) draw_explained();
  if (model.opening) wrapped(say(Word::opening));
  const float width = ImGui::GetContentRegionAvail().x;
  if (width > em(50)) {
    ImGui::BeginChild("start left", {width / 2, 0}, false);
    draw_last(model);
    ImGui::EndChild();
    ImGui::SameLine();
    ImGui::BeginChild("start right", {0, 0}, false);
    draw_new(model);
    draw_open(model);
    ImGui::EndChild();
    return;
  }
  if (footage_waits) draw_new(model);
  draw_last(model);
  if (!footage_waits) draw_new(model);
  draw_open(model);
}

}  // namespace jigtime::app
