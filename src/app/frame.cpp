#include "app/frame.h"

#include <algorithm>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"

namespace jigtime::app {
namespace {

struct Tab {
  Screen screen;
  Word word;
  Deed deed;
};
constexpr Tab tabs[] = {
    {Screen::start, Word::tab_start, Deed::none},        {Screen::sessions, Word::tab_sessions, Deed::go_sessions},
    {Screen::bench, Word::tab_bench, Deed::go_bench},    {Screen::fasteners, Word::tab_fasteners, Deed::go_fasteners},
    {Screen::ledger, Word::tab_ledger, Deed::go_ledger}, {Screen::items, Word::tab_items, Deed::go_items},
    {Screen::find, Word::tab_find, Deed::go_find},       {Screen::names, Word::tab_names, Deed::go_names},
    {Screen::help, Word::tab_help, Deed::help},
};

void go_to_screen(Model& model, Screen screen) {
  const bool needs_journal = screen != Screen::start && screen != Screen::help;
  if (needs_journal && !model.snapshot) return model.tell({std::string{say(Word::open_first)}, true});
  if (screen == Screen::help && model.screen != Screen::help) model.before_help = model.screen;
  if (screen == Screen::help && model.screen == Screen::help) screen = model.before_help;
  if (screen == Screen::find) {
    model.find.focus = true;
    model.find.entered = false;
    model.find.asked.clear();  // what was written since counts too
  }
  model.screen = screen;
}

void change_scale(Model& model, int direction) {
  const int next = next_scale(model.settings.scale_percent, direction);
  model.settings_changed = model.settings_changed || next != model.settings.scale_percent;
  model.settings.scale_percent = next;
}

bool do_everywhere(Model& model, Deed deed) {
  for (const Tab& tab : tabs) {
    if (tab.deed == deed && deed != Deed::none) return go_to_screen(model, tab.screen), true;
  }
  switch (deed) {
    case Deed::undo: return undo(model), true;
    case Deed::redo: return redo(model), true;
    case Deed::bigger: return change_scale(model, 1), true;
    case Deed::smaller: return change_scale(model, -1), true;
    case Deed::quit: return model.wants_to_close = true, true;
    default: return false;
  }
}

/// Escape closes what is open, the nearest thing first. True when it did.
bool escape(Model& model) {
  if (model.screen == Screen::help) return go_to_screen(model, Screen::help), true;
  if (model.screen == Screen::bench && model.bench.entry.open()) return model.bench.entry = Entry{}, true;
  if (model.screen == Screen::bench && model.bench.walking) return model.bench.walking = false, true;
  if (model.screen == Screen::find && model.bench_view() != nullptr) return model.screen = Screen::bench, true;
  return false;
}

/// While text is typed only keys that no text needs do anything.
bool is_for_text(const Press& press) {
  return press.key < 256 ? !press.control || press.key == 'Z' || press.key == 'Y' : press.key < key_f1;
}

void take_key(Model& model, const Press& press) {
  if (press.key == key_escape && escape(model)) return;
  const bool at_bench = model.screen == Screen::bench && model.bench_view() != nullptr;
  if ((text_is_typed(model) || field_is_opening(model)) && is_for_text(press)) return;
  if (at_bench && press.key == key_tab) {
    model.bench.walking = !model.bench.walking;
    return;
  }
  const bool walking = at_bench && model.bench.walking;
  const bool at_ledger = model.screen == Screen::ledger;
  const auto meaning = deed_for(press, at_bench && !walking ? Where::bench
                                       : at_ledger          ? Where::ledger
                                                            : Where::everywhere);
  if (!meaning || do_everywhere(model, meaning->deed)) return;
  if (at_bench) do_at_bench(model, *meaning);
  if (at_ledger) do_at_ledger(model, meaning->deed);
}

/// The arrows walk from button to button, except where they move the film.
void set_walking(const Model& model) {
  const bool film = model.screen == Screen::bench && model.bench_view() != nullptr && !model.bench.walking &&
                    !model.bench.entry.open();
  ImGuiIO& io = ImGui::GetIO();
  if (film) {
    io.ConfigFlags &= ~ImGuiConfigFlags_NavEnableKeyboard;
  } else {
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  }
}

/// Whether all tabs fit on one line with their keys behind them; else the words alone stand there.
bool tabs_fit() {
  float width = 0;
  for (const Tab& tab : tabs) width += button_width(say(tab.word), tab.deed) + ImGui::GetStyle().ItemSpacing.x;
  return width < ImGui::GetContentRegionAvail().x;
}

void draw_tabs(Model& model) {
  const bool with_keys = tabs_fit();
  const ImGuiStyle& style = ImGui::GetStyle();
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {with_keys ? style.FramePadding.x : em(0.3F), style.FramePadding.y});
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {with_keys ? style.ItemSpacing.x : em(0.1F), style.ItemSpacing.y});
  bool first = true;
  for (const Tab& tab : tabs) {
    const bool needs_journal = tab.screen != Screen::start && tab.screen != Screen::help;
    if (needs_journal && !model.snapshot) continue;
    const Deed key = with_keys ? tab.deed : Deed::none;
    if (!first) flow(button_width(say(tab.word), key));
    first = false;
    const bool here = model.screen == tab.screen;
    if (button(tab.word, key, here ? Weight::chosen : Weight::quiet) && !here) go_to_screen(model, tab.screen);
  }
  ImGui::PopStyleVar(2);
}

float job_height(const Model& model) {
  return model.jobs.running() ? em(2.2F) * static_cast<float>(std::min<std::size_t>(model.jobs.states().size(), 3)) : 0;
}

void draw_job(Model& model, const JobState& job) {
  ImGui::PushID(job.number);
  const float stop = button_width(say(Word::job_stop));
  const float bar = std::max(ImGui::GetContentRegionAvail().x - stop - em(), em(6));
  const std::string left = time_left_words(job.left);
  const std::string words = job.stopping
                                ? say(Word::job_stopping, {job.name})
                                : job.name + "  " + std::to_string(static_cast<int>(job.fraction * 100)) + " %" +
                                      (left.empty() ? "" : "  " + left) + (job.doing.empty() ? "" : "  " + job.doing);
  share_bar(job.fraction, 0, words, bar);
  ImGui::SameLine();
  if (button(Word::job_stop)) model.jobs.cancel(job.number);
  ImGui::PopID();
}

/// What was said last, and the button that takes back what was done last.
class Foot {
 public:
  explicit Foot(Model& model) : model_{model} {
    if (model.snapshot && !model.snapshot->undo.empty()) undo_words_ = say(Word::undo_what, {model.snapshot->undo});
    words_ = model.told.failed ? say(Word::failed_words, {model.told.words}) : model.told.words;
    const float width = ImGui::GetContentRegionAvail().x;
    if (!undo_words_.empty()) undo_width_ = std::min(button_width(undo_words_, Deed::undo), width * 0.4F);
    room_ = width - undo_width_ - em();
  }

  /// Of one line, or more where the words need them.
  float height() const {
    const float words = ImGui::CalcTextSize(words_.c_str(), nullptr, false, room_).y;
    return std::max(em(2.2F), std::min(words, em(most_lines)) + em(0.8F));
  }

  void draw() {
    const float left = ImGui::GetCursorPosX();
    ImGui::BeginChild("told", {room_, height()}, false);
    ImGui::AlignTextToFramePadding();
    wrapped(words_, model_.told.failed ? palette().bad : palette().text);
    ImGui::EndChild();
    if (undo_words_.empty()) return;
    ImGui::SameLine(left + room_ + em());
    if (button(undo_words_, Deed::undo, Weight::quiet, undo_width_)) undo(model_);
  }

 private:
  static constexpr float most_lines = 4;
  Model& model_;
  std::string undo_words_;
  std::string words_;
  float undo_width_ = 0;
  float room_ = 0;
};

void draw_screen(Model& model) {
  switch (model.screen) {
    case Screen::start: return draw_start(model);
    case Screen::sessions: return draw_sessions(model);
    case Screen::bench: return draw_bench(model);
    case Screen::fasteners: return draw_fasteners(model);
    case Screen::ledger: return draw_ledger(model);
    case Screen::items: return draw_items(model);
    case Screen::names: return draw_names(model);
    case Screen::find: return draw_find(model);
    case Screen::help: return draw_help(model);
  }
}

}  // namespace

bool text_is_typed(const Model& model) {
  if (model.screen == Screen::bench && model.bench_view() != nullptr) return model.bench.entry.open();
  return field_has_keyboard();
}

bool field_is_opening(const Model& model) {
  return (model.screen == Screen::bench && model.bench.entry_opened) ||
         (model.screen == Screen::find && model.find.focus);
}

void draw_frame(Model& model, std::span<const Press> presses) {
  for (const Press& press : presses) take_key(model, press);
  forget_fields();
  set_walking(model);
  const ImGuiViewport& screen = *ImGui::GetMainViewport();
  ImGui::SetNextWindowPos(screen.WorkPos);
  ImGui::SetNextWindowSize(screen.WorkSize);
  constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus;
  ImGui::Begin("jigtime", nullptr, flags);
  draw_tabs(model);
  Foot foot{model};
  const float below = foot.height() + job_height(model) + ImGui::GetStyle().ItemSpacing.y;
  ImGui::BeginChild("screen", {0, std::max(ImGui::GetContentRegionAvail().y - below, em(6))}, false);
  draw_screen(model);
  ImGui::EndChild();
  for (const JobState& job : model.jobs.states()) draw_job(model, job);
  foot.draw();
  ImGui::End();
}

}  // namespace jigtime::app
