// The cameras side by side, in step; a camera that was off says since when and until when.
#include <algorithm>
#include <cmath>

#include "app/hatch.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"

namespace jigtime::app {
namespace {

struct Grid {
  int columns = 1;
  int rows = 1;
};

/// The arrangement in which pictures of 16 : 9 come out largest.
Grid grid_for(int count, ImVec2 size) {
  Grid best;
  float best_width = 0;
  for (int columns = 1; columns <= count; ++columns) {
    const int rows = (count + columns - 1) / columns;
    const float width = std::min(size.x / static_cast<float>(columns), size.y / static_cast<float>(rows) * 16 / 9);
    if (width > best_width) {
      best_width = width;
      best = {columns, rows};
    }
  }
  return best;
}

std::string clock(SessionTime t) { return to_short_clock_text(t.time_since_epoch()); }

std::string off_words(const CameraNow& now) {
  if (now.off_since && now.off_until) return say(Word::off_between, {clock(*now.off_since), clock(*now.off_until)});
  if (now.off_since) return say(Word::off_since, {clock(*now.off_since)});
  if (now.off_until) return say(Word::off_until, {clock(*now.off_until)});
  return say(Word::off_all_day);
}

void centred(ImDrawList& draw, ImVec2 from, ImVec2 to, const std::string& words, ImU32 colour) {
  const float width = to.x - from.x - em();
  const ImVec2 size = ImGui::CalcTextSize(words.c_str(), nullptr, false, width);
  draw.AddText(nullptr, 0, {(from.x + to.x - size.x) / 2, (from.y + to.y - size.y) / 2}, colour, words.c_str(), nullptr,
               width);
}

/// The same where there is little room: when it comes back, or since when it is off.
std::string off_briefly(const CameraNow& now) {
  if (now.off_until) return say(Word::off_until_brief, {clock(*now.off_until)});
  if (now.off_since) return say(Word::off_since_brief, {clock(*now.off_since)});
  return say(Word::off_all_day_brief);
}

/// Below the camera's name, on a ground of their own.
void words_on_band(ImDrawList& draw, ImVec2 from, ImVec2 to, std::string words, const std::string& briefly) {
  const float room = to.x - from.x - em();
  const float name = em(1.5F);
  ImVec2 size = ImGui::CalcTextSize(words.c_str(), nullptr, false, room);
  if (size.y > to.y - from.y - name) {
    words = briefly;
    size = ImGui::CalcTextSize(words.c_str(), nullptr, false, room);
  }
  const float top = std::max((from.y + to.y - size.y) / 2, from.y + name);
  draw.AddRectFilled({from.x, top - em(0.4F)}, {to.x, top + size.y + em(0.4F)}, palette().panel);
  centred(draw, {from.x, top}, {to.x, top + size.y}, words, palette().text);
}

void draw_one(const CameraNow& camera, const Playback::View* view, ImVec2 from, ImVec2 to) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.PushClipRect(from, to, true);
  draw.AddRectFilled(from, to, palette().panel);
  if (view != nullptr && view->texture != nullptr) {
    const float fit = std::min((to.x - from.x) / view->width, (to.y - from.y) / view->height);
    const ImVec2 half{view->width * fit / 2, view->height * fit / 2};
    const ImVec2 middle{(from.x + to.x) / 2, (from.y + to.y) / 2};
    draw.AddImage(view->texture, {middle.x - half.x, middle.y - half.y}, {middle.x + half.x, middle.y + half.y});
    if (!view->words.empty()) centred(draw, {from.x, to.y - em(2)}, to, view->words, palette().text);
  } else if (!camera.clip) {
    hatch(draw, from, to, with_alpha(palette().line, 0.5F), em(0.9F));
    words_on_band(draw, from, to, off_words(camera), off_briefly(camera));
  } else {
    centred(draw, from, to,
            view == nullptr || view->words.empty() ? std::string{say(Word::picture_coming)} : view->words,
            palette().dim);
  }
  const std::string name = shortened(camera.name, to.x - from.x - em());
  const float width = ImGui::CalcTextSize(name.c_str()).x;
  draw.AddRectFilled(from, {from.x + width + em(0.8F), from.y + em(1.4F)}, with_alpha(palette().ground, 0.8F));
  draw.AddText({from.x + em(0.4F), from.y + em(0.2F)}, palette().text, name.c_str());
  draw.AddRect(from, to, palette().line);
  draw.PopClipRect();
}

}  // namespace

void draw_pictures(Model& model, ImVec2 size) {
  ImGui::BeginChild("pictures", size, false, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoNav);
  const std::vector<CameraNow> cameras = cameras_at(model.view().rows, model.playback.position());
  const std::vector<Playback::View> views = model.playback.views();
  if (cameras.empty()) {
    empty_state(Word::no_footage, Word::no_footage_do);
    ImGui::EndChild();
    return;
  }
  const Grid grid = grid_for(static_cast<int>(cameras.size()), size);
  model.playback.set_most_width(size.x / static_cast<float>(grid.columns) * ImGui::GetIO().DisplayFramebufferScale.x);
  const ImVec2 at = ImGui::GetWindowPos();
  const float gap = em(0.3F);
  const ImVec2 cell{size.x / static_cast<float>(grid.columns), size.y / static_cast<float>(grid.rows)};
  for (std::size_t i = 0; i < cameras.size(); ++i) {
    const auto column = static_cast<float>(static_cast<int>(i) % grid.columns);
    const auto row = static_cast<float>(static_cast<int>(i) / grid.columns);
    const ImVec2 from{at.x + column * cell.x, at.y + row * cell.y};
    const auto view = std::find_if(views.begin(), views.end(),
                                   [&](const Playback::View& one) { return one.camera == cameras[i].camera; });
    draw_one(cameras[i], view == views.end() ? nullptr : &*view, from, {from.x + cell.x - gap, from.y + cell.y - gap});
  }
  ImGui::EndChild();
}

}  // namespace jigtime::app
