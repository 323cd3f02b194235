// The bench: pictures, buttons and what is tagged above, the day strip below.
#include <algorithm>
#include <cmath>

#include "app/screens.h"
#include "app/ui.h"

namespace jigtime::app {

namespace {

/// Pictures side by side need only so much height: what is left over is better used by what is below them.
float height_to_spare(const Model& model, float width, float height) {
  const auto cameras = static_cast<float>(model.view().cameras ? model.view().cameras->ids.size() : 0);
  if (cameras < 2 || cameras > 4) return 0;
  const float needed = width / cameras * 9 / 16 + em(0.3F);
  return needed > height * 0.45F ? std::max(height - needed, 0.0F) : 0;
}

/// `wanted`, or where there is less room as many rows of buttons as are seen whole in it, but one at least.
float whole_rows(float wanted, float room) {
  if (wanted <= room) return wanted;
  const float row = button_height() + ImGui::GetStyle().ItemSpacing.y;
  return std::max(std::floor(room / row), 1.0F) * row;
}

}  // namespace

void draw_bench(Model& model) {
  if (model.bench_view() == nullptr) return empty_state(Word::bench_empty, Word::bench_empty_do);
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float gap = ImGui::GetStyle().ItemSpacing.y;
  const float wanted = static_cast<float>(model.bench.strip_wanted) + em(0.3F);
  const bool tight = room.y < em(26);
  float strip = std::clamp(wanted, std::min(em(7), room.y * 0.36F), room.y * (tight ? 0.36F : 0.42F));
  const float panel = std::clamp(room.x * 0.27F, std::min(em(17), room.x * 0.4F), em(24));
  float above = room.y - strip - gap;
  const float left = room.x - panel - ImGui::GetStyle().ItemSpacing.x;
  // Where there is little room the pictures come first: what the buttons do, their keys do too.
  float transport = whole_rows(model.bench.transport_height, above * (tight ? 0.45F : 0.6F));
  float spare = height_to_spare(model, left, above - transport - gap);
  if (tight) transport = whole_rows(model.bench.transport_height, transport + spare);
  // What is tagged beside the pictures needs its height more than the strip where there is little.
  spare = tight ? 0 : std::clamp(wanted - strip, 0.0F, spare);
  strip += spare;
  above -= spare;

  ImGui::BeginChild("above left", {left, above}, false);
  draw_pictures(model, {left, above - transport - gap});
  ImGui::BeginChild("transport", {left, transport}, false);
  const float top = ImGui::GetCursorPosY();
  draw_transport(model, tight ? Room::tight : Room::enough);
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
