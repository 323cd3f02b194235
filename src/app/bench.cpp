// The bench: pictures, buttons and what is tagged above, the day strip below.
#include <algorithm>

#include "app/screens.h"
#include "app/ui.h"

namespace jigtime::app {

void draw_bench(Model& model) {
  if (model.bench_view() == nullptr) return empty_state(Word::bench_empty, Word::bench_empty_do);
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float gap = ImGui::GetStyle().ItemSpacing.y;
  const float wanted = static_cast<float>(model.bench.layout.height) + em(0.3F);
  const float strip = std::clamp(wanted, std::min(em(7), room.y * 0.36F), room.y * (room.y < em(30) ? 0.36F : 0.42F));
  const float panel = std::clamp(room.x * 0.27F, std::min(em(17), room.x * 0.4F), em(24));
  const float above = room.y - strip - gap;
  const float left = room.x - panel - ImGui::GetStyle().ItemSpacing.x;

  ImGui::BeginChild("above left", {left, above}, false);
  // Where there is little room the pictures come first: what the buttons do, their keys do too.
  const float transport = std::min(model.bench.transport_height, above * 0.45F);
  draw_pictures(model, {left, above - transport - gap});
  ImGui::BeginChild("transport", {left, transport}, false);
  const float top = ImGui::GetCursorPosY();
  draw_transport(model);
  model.bench.transport_height = std::max(ImGui::GetCursorPosY() - top, em(4));
  ImGui::EndChild();
  ImGui::EndChild();
  ImGui::SameLine();
  ImGui::BeginChild("tagging", {panel, above}, false);
  draw_tagging(model);
  ImGui::EndChild();
  draw_strip(model, {room.x, strip});
}

}  // namespace jigtime::app
