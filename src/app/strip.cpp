// The day strip: laid out, painted, and what the mouse does on it.
#include <algorithm>
#include <cmath>

#include "app/deeds.h"
#include "app/screens.h"
#include "app/strip_paint.h"
#include "app/ui.h"

namespace jigtime::app {
namespace {

StripMetrics metrics_now() {
  StripMetrics metrics;
  metrics.gutter = static_cast<double>(em(8));
  metrics.header = static_cast<double>(em(1.3F));
  metrics.line = static_cast<double>(em(1.45F));
  metrics.camera_line = static_cast<double>(em(2.6F));
  metrics.gap = static_cast<double>(em(0.2F));
  metrics.edge = static_cast<double>(em(0.4F));
  return metrics;
}

class Mouse {
 public:
  Mouse(Model& model, const StripFrame& frame)
      : model_{model}, frame_{frame}, bench_{model.bench}, view_{model.view()} {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    x_ = static_cast<double>(mouse.x - frame.at.x) - frame.metrics.gutter;
    y_ = static_cast<double>(mouse.y - frame.at.y);
    on_clock_ = mouse.y < frame.corner.y + static_cast<float>(frame.metrics.header);
    if (!on_clock_ && x_ >= 0) under_ = under(view_.rows, bench_.layout, frame.metrics, x_, y_);
  }

  void act() {
    const ImGuiIO& io = ImGui::GetIO();
    if (bench_.drag.what != Drag::What::none) return go_on(io);
    if (!ImGui::IsItemHovered()) return;
    if (x_ < 0) return name();
    wheel(io);
    pointer();
    if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) press(io);
    if (ImGui::IsMouseClicked(ImGuiMouseButton_Middle)) begin(Drag::What::pan, 0, bench_.window.from);
    if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && under_) model_.playback.show(item().range.begin());
  }

 private:
  const StripItem& item() const { return view_.rows.rows[under_->row].items[under_->item]; }
  SessionTime time() const { return bench_.window.time_at(x_); }

  /// Long names are cut off in the gutter: the whole one under the pointer.
  void name() const {
    for (std::size_t i = 0; i < bench_.layout.rows.size(); ++i) {
      if (y_ < bench_.layout.rows[i].y0 || y_ > bench_.layout.rows[i].y1 || on_clock_) continue;
      const StripRow& row = view_.rows.rows[i];
      return hint(row.about.empty() ? row.name : row.name + "\n" + row.about);
    }
  }

  void wheel(const ImGuiIO& io) {
    if (io.MouseWheel == 0) return;
    if (io.KeyShift) {
      bench_.window = panned(bench_.window,
                             -from_seconds(to_seconds(bench_.window.length) * 0.1 * static_cast<double>(io.MouseWheel)),
                             view_.rows.whole);
    } else {
      bench_.window =
          zoomed(bench_.window, std::pow(0.8, static_cast<double>(io.MouseWheel)), time(), view_.rows.whole);
    }
  }

  void pointer() {
    if (!under_) return;
    if (under_->grip != Grip::body && !model_.fixed()) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    if (item().kind == ItemKind::clip && item().weak && !model_.fixed()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    hint(item().about + (item().kind == ItemKind::clip
                             ? "\n" + std::string{say(item().weak ? Word::drag_weak : Word::drag_sure)}
                             : std::string{}));
  }

  void begin(Drag::What what, std::int64_t id, SessionTime from) { bench_.drag = {what, id, x_, from, from}; }

  void press(const ImGuiIO& io) {
    if (!under_) {
      bench_.selected.clear();
      bench_.clip.reset();
      bench_.proposal.reset();
      bench_.mark.reset();
      return begin(Drag::What::seek, 0, time());
    }
    switch (item().kind) {
      case ItemKind::span: return press_span(io);
      case ItemKind::clip: return press_clip(io);
      case ItemKind::mark:
        bench_.mark = item().id;
        bench_.selected.clear();
        return model_.playback.show(item().range.begin());
      case ItemKind::proposal: bench_.proposal = item().id; return model_.playback.show(item().range.begin());
      case ItemKind::dropout: return begin(Drag::What::seek, 0, time());
    }
  }

  void press_span(const ImGuiIO& io) {
    const bool had = bench_.selected.contains(item().id);
    if (!io.KeyCtrl && !io.KeyShift) bench_.selected.clear();
    if (io.KeyCtrl && had) {
      bench_.selected.erase(item().id);
    } else {
      bench_.selected.insert(item().id);
    }
    bench_.mark.reset();
    if (model_.fixed()) return;
    if (under_->grip == Grip::begin) begin(Drag::What::span_begin, item().id, item().range.begin());
    if (under_->grip == Grip::end) begin(Drag::What::span_end, item().id, item().range.end());
  }

  void press_clip(const ImGuiIO& io) {
    if (bench_.clip != item().id) {
      bench_.clip = item().id;
      ask_why(model_, item().id);
    }
    if ((item().weak || io.KeyCtrl) && !model_.fixed()) return begin(Drag::What::clip, item().id, item().range.begin());
    begin(Drag::What::seek, 0, time());
  }

  void go_on(const ImGuiIO& io) {
    Drag& drag = bench_.drag;
    const Length by = from_seconds(to_seconds(bench_.window.per_pixel()) * (x_ - drag.from_x));
    if (drag.what == Drag::What::seek) model_.playback.show(std::max(SessionTime{}, time()));
    if (drag.what == Drag::What::pan)
      bench_.window = panned(bench_.window, (drag.from - by) - bench_.window.from, view_.rows.whole);
    drag.to = std::max(SessionTime{}, drag.from + by);
    const auto button = drag.what == Drag::What::pan ? ImGuiMouseButton_Middle : ImGuiMouseButton_Left;
    if (!io.MouseDown[button]) let_go(std::abs(x_ - drag.from_x));
  }

  void let_go(double moved_px) {
    const Drag drag = bench_.drag;
    bench_.drag = {};
    if (moved_px < static_cast<double>(em(0.25F))) {
      if (drag.what == Drag::What::clip) model_.playback.show(std::max(SessionTime{}, time()));
      return;
    }
    if (drag.what == Drag::What::span_begin) trim_span(model_, drag.id, drag.to, std::nullopt);
    if (drag.what == Drag::What::span_end) trim_span(model_, drag.id, std::nullopt, drag.to);
    if (drag.what == Drag::What::clip) place_clip(model_, drag.id, drag.to);
  }

  Model& model_;
  const StripFrame& frame_;
  BenchState& bench_;
  const BenchView& view_;
  double x_ = 0;
  double y_ = 0;
  bool on_clock_ = false;
  std::optional<Under> under_;
};

void fit_window(Model& model, double width, SessionTime now) {
  BenchState& bench = model.bench;
  bench.window.width_px = std::max(width, 1.0);
  const SessionRange whole = model.view().rows.whole;
  if (bench.fit) {
    bench.window = showing(whole, width);
    bench.fit = false;
  }
  if (model.playback.playing() && bench.drag.what == Drag::What::none)
    bench.window = with_in_sight(bench.window, now, whole);
}

}  // namespace

void draw_strip(Model& model, ImVec2 size) {
  ImGui::BeginChild("day strip", size, false, ImGuiWindowFlags_NoScrollWithMouse | ImGuiWindowFlags_NoNav);
  StripFrame frame;
  const StripMetrics metrics = metrics_now();
  model.bench.strip_wanted = height_of(model.view().rows, metrics);
  frame.metrics = fitted(model.view().rows, metrics, static_cast<double>(size.y));
  frame.now = model.playback.position();
  frame.corner = ImGui::GetWindowPos();
  frame.at = ImGui::GetCursorScreenPos();
  frame.size = {ImGui::GetContentRegionAvail().x, ImGui::GetWindowHeight()};
  fit_window(model, static_cast<double>(frame.size.x) - frame.metrics.gutter, frame.now);
  lay_out(model.view().rows, model.bench.window, frame.metrics, model.bench.layout);
  ImGui::InvisibleButton("strip",
                         {frame.size.x, std::max(static_cast<float>(model.bench.layout.height), frame.size.y)});
  Mouse{model, frame}.act();
  paint_strip(model, frame);
  ImGui::EndChild();
}

}  // namespace jigtime::app
