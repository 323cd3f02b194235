// The clock and the buttons below the pictures.
#include <algorithm>

#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

std::string speed_words(double speed) {
  if (speed >= 1) return std::to_string(static_cast<int>(speed)) + "\xC3\x97";
  return to_decimal_text(speed, speed < 0.5 ? 2 : 1) + "\xC3\x97";
}

Word jump_word(JumpTo jump) {
  switch (jump) {
    case JumpTo::span: return Word::jump_span;
    case JumpTo::mark: return Word::jump_mark;
    case JumpTo::riveting: return Word::jump_riveting;
    case JumpTo::dropout: return Word::jump_dropout;
  }
  return Word::jump_span;
}

/// Civil time of day at the instant on show; empty where no clock told it.
std::string day_clock(const BenchView& view, SessionTime now) {
  if (!view.record.session.zero) return {};
  const Length local = view.record.session.zero->time_since_epoch() + view.offset + now.time_since_epoch();
  return say(Word::on_the_clock, {to_short_clock_text(local % std::chrono::hours{24})});
}

void flowing(Model& model, std::string_view words, Deed deed, float width = 0) {
  flow(std::max(width, button_width(words, deed)));
  if (button(words, deed, Weight::plain, width)) do_at_bench(model, {deed, 0});
}

/// A button whose words change keeps the width of the longest of them: nothing beside it moves then.
float width_for_all(Word frame, const std::vector<std::string>& all, Deed deed) {
  float widest = 0;
  for (const std::string& words : all) widest = std::max(widest, button_width(say(frame, {words}), deed));
  return std::min(widest, ImGui::GetWindowContentRegionMax().x);
}

float jump_width() {
  constexpr JumpTo kinds[] = {JumpTo::span, JumpTo::mark, JumpTo::riveting, JumpTo::dropout};
  std::vector<std::string> all;
  for (const JumpTo kind : kinds) all.emplace_back(say(jump_word(kind)));
  return width_for_all(Word::jump_to, all, Deed::jump_kind);
}

/// The speed, in a place as wide as the longest one.
void draw_speed(double speed) {
  ImGui::SameLine();
  const float left = ImGui::GetCursorPosX();
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(speed_words(speed).c_str());
  ImGui::SameLine(left + ImGui::CalcTextSize(speed_words(slowest).c_str()).x);
  ImGui::Dummy({0, 0});
}

}  // namespace

void draw_transport(Model& model, Room room) {
  const BenchView& view = model.view();
  const SessionTime now = model.playback.position();
  std::string clock = to_clock_text(now);
  clock.resize(clock.size() - 2);  // tenths are enough while it runs
  ImGui::PushFont(ImGui::GetIO().Fonts->Fonts.back());
  ImGui::TextUnformatted(clock.c_str());
  ImGui::PopFont();
  ImGui::SameLine();
  const std::string told = day_clock(view, now);
  if (room == Room::enough) {
    elided(report::date_words(view.record.session.date) + (told.empty() ? "" : ", " + told),
           ImGui::GetContentRegionAvail().x, palette().dim);
  }
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {em(0.45F), ImGui::GetStyle().FramePadding.y});
  const bool playing = model.playback.playing();
  const std::string_view words = say(playing ? Word::stop : Word::play);
  if (button(words, Deed::play, playing ? Weight::chosen : Weight::strong,
             button_width(say(Word::play), Deed::play) + em(0.5F))) {
    do_at_bench(model, {Deed::play, 0});
  }
  flowing(model, say(Word::slower), Deed::slower);
  draw_speed(model.playback.speed());
  flowing(model, say(Word::faster), Deed::faster);
  flowing(model, say(Word::picture_before), Deed::picture_back);
  flowing(model, say(Word::picture_next), Deed::picture_on);
  flowing(model, say(Word::jump_to, {say(jump_word(model.bench.jump))}), Deed::jump_kind, jump_width());
  flowing(model, say(Word::before), Deed::jump_back);
  flowing(model, say(Word::next), Deed::jump_on);
  flowing(model, say(Word::go_to_time), Deed::go_to_time);
  flowing(model, say(Word::whole_day), Deed::zoom_day);
  flowing(model, say(Word::sound_of, {model.playback.sound_words()}), Deed::sound_next,
          width_for_all(Word::sound_of, model.playback.all_sound_words(), Deed::sound_next));
  ImGui::PopStyleVar();
}

}  // namespace jigtime::app
