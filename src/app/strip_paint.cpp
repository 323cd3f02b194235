#include "app/strip_paint.h"

#include <algorithm>
#include <cmath>

#include "app/hatch.h"
#include "app/theme.h"
#include "app/ui.h"
#include "base/text.h"
#include "report/words.h"

namespace jigtime::app {
namespace {

class Painter {
 public:
  Painter(const Model& model, const StripFrame& frame)
      : model_{model}, frame_{frame}, view_{model.view()}, draw_{*ImGui::GetWindowDrawList()} {
    left_ = frame.at.x + static_cast<float>(frame.metrics.gutter);
    right_ = frame.corner.x + frame.size.x;
  }

  void paint() {
    const ImVec2 end{right_, frame_.corner.y + frame_.size.y};
    draw_.PushClipRect({left_, frame_.corner.y}, end, true);
    lanes();
    for (const StripBox& box : model_.bench.layout.boxes) item(box);
    running_span();
    dragged();
    draw_.PopClipRect();
    gutter();
    clock();
    draw_.PushClipRect({left_, frame_.corner.y}, end, true);
    now_line();
    draw_.PopClipRect();
  }

 private:
  const StripItem& item_of(const StripBox& box) const { return view_.rows.rows[box.row].items[box.item]; }
  float x_of(SessionTime t) const { return left_ + static_cast<float>(model_.bench.window.x_of(t)); }

  void lanes() {
    for (std::size_t i = 0; i < model_.bench.layout.rows.size(); ++i) {
      const RowPlace& place = model_.bench.layout.rows[i];
      draw_.AddRectFilled({left_, frame_.at.y + static_cast<float>(place.y0)},
                          {right_, frame_.at.y + static_cast<float>(place.y1)}, palette().panel);
    }
  }

  void item(const StripBox& box) {
    const StripItem& one = item_of(box);
    const ImVec2 from{left_ + static_cast<float>(box.x0), frame_.at.y + static_cast<float>(box.y0)};
    const ImVec2 to{left_ + static_cast<float>(box.x1), frame_.at.y + static_cast<float>(box.y1)};
    switch (one.kind) {
      case ItemKind::clip: return clip(box, one, from, to);
      case ItemKind::dropout: return dropout(one, from, to);
      case ItemKind::span: return span(one, from, to);
      case ItemKind::mark: return mark(one, from, to);
      case ItemKind::proposal: return heard(one, from, to);
    }
  }

  void clip(const StripBox& box, const StripItem& one, ImVec2 from, ImVec2 to) {
    const ImU32 colour = colour_of(one);
    draw_.AddRectFilled(from, to, with_alpha(colour, 0.28F));
    sound(box, one, from, to, colour);
    if (one.vague) {
      dashed_frame(draw_, from, to, colour, em(0.3F));
    } else if (one.look == ItemLook::by_sound) {
      draw_.AddRect(from, to, colour);
    } else {
      dashed_frame(draw_, from, to, colour, em(one.look == ItemLook::by_clock ? 0.3F : 0.7F));
    }
    if (one.weak) whiskers(one, from, to);
    if (model_.bench.clip == one.id) draw_.AddRect(from, to, palette().text, 0, 0, 3);
    const std::string words =
        one.weak || one.vague ? say(Word::weak_label, {report::sigma_words(one.doubt), one.label}) : one.label;
    label(words, from, to, palette().text, Backing::dark);
  }

  void sound(const StripBox& box, const StripItem& one, ImVec2 from, ImVec2 to, ImU32 colour) {
    const auto found = model_.bench.loudness.find(one.id);
    const journal::Placement* placement = view_.record.placement(journal::ClipId{one.id});
    if (found == model_.bench.loudness.end() || placement == nullptr) return;
    const Piece* piece = piece_at(placement->pieces, one.range.begin());
    if (piece == nullptr) return;
    const float begin = std::max(from.x, left_);
    const float end = std::min(to.x, right_);
    const float middle = (from.y + to.y) / 2;
    const float half = (to.y - from.y) / 2 - 1;
    constexpr float step = 2;
    // One straight line maps the piece: two points of it are enough.
    const SessionTime t0 = model_.bench.window.time_at(begin - left_);
    const ClipTime c0 = piece->to_clip(t0);
    const double per_px = to_seconds(model_.bench.window.per_pixel());
    for (float x = begin; x < end; x += step) {
      const ClipTime a = c0 + from_seconds(per_px * static_cast<double>(x - begin));
      const ClipTime b = a + from_seconds(per_px * static_cast<double>(step));
      const float high = half * static_cast<float>(found->second.loudest(a, b)) / 255.0F;
      if (high >= 0.5F) draw_.AddRectFilled({x, middle - high}, {x + step, middle + high}, with_alpha(colour, 0.75F));
    }
    (void)box;
  }

  void whiskers(const StripItem& one, ImVec2 from, ImVec2 to) {
    const auto reach = static_cast<float>(to_seconds(one.doubt) / to_seconds(model_.bench.window.length) *
                                          model_.bench.window.width_px);
    const float y = to.y - em(0.35F);
    for (const float x : {from.x, to.x}) {
      draw_.AddLine({x - reach, y}, {x + reach, y}, palette().text, 2);
      draw_.AddLine({x - reach, y - em(0.3F)}, {x - reach, y + em(0.3F)}, palette().text, 2);
      draw_.AddLine({x + reach, y - em(0.3F)}, {x + reach, y + em(0.3F)}, palette().text, 2);
    }
  }

  void dropout(const StripItem& one, ImVec2 from, ImVec2 to) {
    hatch(draw_, from, to, with_alpha(colour_of(one), 0.8F), em(0.45F));
    draw_.AddRect(from, to, with_alpha(colour_of(one), 0.8F));
    const float width = ImGui::CalcTextSize(one.label.c_str()).x;
    if (width + em() > std::min(to.x, right_) - std::max(from.x, left_)) return;
    const float x = std::max(from.x, left_) + em(0.3F);
    const float y = (from.y + to.y - em()) / 2;
    draw_.AddRectFilled({x - 2, y - 1}, {x + width + 2, y + em() + 1}, palette().panel);
    draw_.AddText({x, y}, palette().text, one.label.c_str());
  }

  void span(const StripItem& one, ImVec2 from, ImVec2 to) {
    draw_.AddRectFilled(from, to, colour_of(one), em(0.15F));
    if (one.look == ItemLook::pause) hatch(draw_, from, to, IM_COL32(0, 0, 0, 90), em(0.5F));
    draw_.AddRect(from, to, palette().ground, em(0.15F));
    if (model_.bench.selected.contains(one.id)) {
      draw_.AddRect({from.x - 1, from.y - 1}, {to.x + 1, to.y + 1}, palette().text, em(0.15F), 0, 3);
    }
    label(one.label, from, to, palette().on_item);
  }

  void mark(const StripItem& one, ImVec2 from, ImVec2 to) {
    const ImU32 colour = colour_of(one);
    const float bottom = frame_.at.y + static_cast<float>(model_.bench.layout.height);
    draw_.AddLine({from.x, from.y}, {from.x, bottom}, with_alpha(colour, 0.35F));
    draw_.AddTriangleFilled(from, {to.x, (from.y + to.y) / 2}, {from.x, to.y}, colour);
    if (model_.bench.mark == one.id)
      draw_.AddCircle({from.x + em(0.3F), (from.y + to.y) / 2}, em(0.6F), palette().now, 0, 3);
  }

  void heard(const StripItem& one, ImVec2 from, ImVec2 to) {
    dashed_frame(draw_, from, to, colour_of(one), em(0.25F));
    if (model_.bench.proposal == one.id) draw_.AddRect(from, to, palette().text, 0, 0, 3);
    label(one.label, from, to, palette().text);
  }

  /// Words inside a bar, from its visible left edge on; none where there is no room for a few letters.
  enum class Backing { none, dark };
  void label(const std::string& words, ImVec2 from, ImVec2 to, ImU32 colour, Backing backing = Backing::none) {
    const float begin = std::max(from.x, left_) + em(0.3F);
    const float room = std::min(to.x, right_) - begin - em(0.2F);
    if (room < em(1.5F)) return;
    const std::string shown = shortened(words, room);
    const float y = to.y - from.y > em(1.8F) ? from.y + em(0.15F) : (from.y + to.y - em()) / 2;
    if (backing == Backing::dark) {
      draw_.AddRectFilled({begin - 2, y}, {begin + ImGui::CalcTextSize(shown.c_str()).x + 2, y + em()},
                          with_alpha(palette().panel, 0.8F));
    }
    draw_.AddText({begin, y}, colour, shown.c_str());
  }

  /// What is being tagged grows over the people's rows.
  void running_span() {
    const auto begun = model_.bench.composer.begun();
    if (!begun) return;
    const float x0 = x_of(*begun);
    const float x1 = std::max(x_of(frame_.now), x0 + 1);
    const float top = frame_.corner.y;
    const float bottom = frame_.corner.y + frame_.size.y;
    draw_.AddRectFilled({x0, top}, {x1, bottom}, with_alpha(palette().tagging, 0.16F));
    draw_.AddLine({x0, top}, {x0, bottom}, palette().tagging, 3);
  }

  void dragged() {
    const Drag& drag = model_.bench.drag;
    if (drag.what != Drag::What::span_begin && drag.what != Drag::What::span_end && drag.what != Drag::What::clip)
      return;
    const float x = x_of(drag.to);
    draw_.AddLine({x, frame_.corner.y}, {x, frame_.corner.y + frame_.size.y}, palette().strong, 2);
    const std::string words = to_clock_text(drag.to);
    draw_.AddRectFilled({x + 2, frame_.corner.y + em(1.4F)},
                        {x + em(0.8F) + ImGui::CalcTextSize(words.c_str()).x, frame_.corner.y + em(2.6F)},
                        palette().strong);
    draw_.AddText({x + em(0.4F), frame_.corner.y + em(1.5F)}, palette().on_strong, words.c_str());
  }

  void gutter() {
    draw_.AddRectFilled(frame_.corner, {left_, frame_.corner.y + frame_.size.y}, palette().ground);
    for (std::size_t i = 0; i < model_.bench.layout.rows.size(); ++i) {
      const StripRow& row = view_.rows.rows[i];
      const RowPlace& place = model_.bench.layout.rows[i];
      const float y = frame_.at.y + static_cast<float>(place.y0);
      const float width = static_cast<float>(frame_.metrics.gutter) - em(0.6F);
      draw_.AddText({frame_.corner.x, y + em(0.1F)}, palette().text, abridged(row.name, width).c_str());
      if (place.y1 - place.y0 > static_cast<double>(em(2.2F)) && !row.about.empty()) {
        draw_.AddText({frame_.corner.x, y + em(1.2F)}, palette().dim, abridged(row.about, width).c_str());
      }
    }
  }

  void clock() {
    const float height = static_cast<float>(frame_.metrics.header);
    draw_.AddRectFilled(frame_.corner, {right_, frame_.corner.y + height}, palette().ground);
    draw_.PushClipRect({left_, frame_.corner.y}, {right_, frame_.corner.y + height}, true);
    const StripWindow& window = model_.bench.window;
    const Length tick = tick_for(window, static_cast<double>(em(6)));
    for (SessionTime t = first_tick(window.from, tick); t < window.to(); t += tick) {
      const float x = x_of(t);
      draw_.AddLine({x, frame_.corner.y + height * 0.6F}, {x, frame_.corner.y + height}, palette().dim);
      const std::string words =
          tick < std::chrono::seconds{1} ? to_clock_text(t) : to_short_clock_text(t.time_since_epoch());
      draw_.AddText({x + em(0.25F), frame_.corner.y}, palette().dim, words.c_str());
    }
    draw_.PopClipRect();
  }

  void now_line() {
    const float x = x_of(frame_.now);
    draw_.AddLine({x, frame_.corner.y}, {x, frame_.corner.y + frame_.size.y}, palette().now, 2);
    const float size = em(0.45F);
    draw_.AddTriangleFilled({x - size, frame_.corner.y}, {x + size, frame_.corner.y},
                            {x, frame_.corner.y + size * 1.6F}, palette().now);
  }

  const Model& model_;
  const StripFrame& frame_;
  const BenchView& view_;
  ImDrawList& draw_;
  float left_ = 0;
  float right_ = 0;
};

}  // namespace

void paint_strip(const Model& model, const StripFrame& frame) { Painter{model, frame}.paint(); }

}  // namespace jigtime::app
