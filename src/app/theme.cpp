#include "app/theme.h"

#include <array>

namespace jigtime::app {
namespace {

// Okabe and Ito, "Color Universal Design", 2008.
constexpr ImU32 orange = IM_COL32(0xE6, 0x9F, 0x00, 255);
constexpr ImU32 sky = IM_COL32(0x56, 0xB4, 0xE9, 255);
constexpr ImU32 green = IM_COL32(0x00, 0x9E, 0x73, 255);
constexpr ImU32 yellow = IM_COL32(0xF0, 0xE4, 0x42, 255);
constexpr ImU32 blue = IM_COL32(0x00, 0x72, 0xB2, 255);
constexpr ImU32 vermillion = IM_COL32(0xD5, 0x5E, 0x00, 255);
constexpr ImU32 purple = IM_COL32(0xCC, 0x79, 0xA7, 255);
constexpr ImU32 black = IM_COL32(0, 0, 0, 255);
constexpr ImU32 white = IM_COL32(255, 255, 255, 255);

constexpr Palette dark{
    .text = IM_COL32(0xEC, 0xEC, 0xE6, 255),
    .dim = IM_COL32(0xA8, 0xAC, 0xB0, 255),
    .ground = IM_COL32(0x16, 0x18, 0x1B, 255),
    .panel = IM_COL32(0x20, 0x23, 0x27, 255),
    .line = IM_COL32(0x4A, 0x4F, 0x55, 255),
    .button = IM_COL32(0x33, 0x38, 0x3E, 255),
    .strong = sky,
    .on_strong = black,
    .now = vermillion,
    .tagging = yellow,
    .bad = IM_COL32(0xFF, 0x8A, 0x3D, 255),
    .good = IM_COL32(0x2F, 0xC9, 0x9B, 255),
    .on_item = black,
};

constexpr Palette light{
    .text = IM_COL32(0x14, 0x16, 0x18, 255),
    .dim = IM_COL32(0x55, 0x5A, 0x60, 255),
    .ground = IM_COL32(0xF4, 0xF3, 0xEE, 255),
    .panel = IM_COL32(0xFF, 0xFF, 0xFD, 255),
    .line = IM_COL32(0xB4, 0xB4, 0xAC, 255),
    .button = IM_COL32(0xE0, 0xDF, 0xD8, 255),
    .strong = blue,
    .on_strong = white,
    .now = vermillion,
    .tagging = orange,
    .bad = IM_COL32(0xA8, 0x44, 0x00, 255),
    .good = IM_COL32(0x00, 0x70, 0x50, 255),
    .on_item = black,
};

const Palette* chosen = &dark;

// Black words must be read on each of them.
constexpr std::array<ImU32, work_tones> tones{green, IM_COL32(0x6F, 0xB8, 0xDF, 255), purple,
                                              IM_COL32(0x7F, 0xCC, 0xB6, 255), IM_COL32(0xE0, 0xB0, 0x50, 255)};

ImVec4 mixed(ImU32 a, ImU32 b, float share) {
  const ImVec4 x = ImGui::ColorConvertU32ToFloat4(a);
  const ImVec4 y = ImGui::ColorConvertU32ToFloat4(b);
  return {x.x + (y.x - x.x) * share, x.y + (y.y - x.y) * share, x.z + (y.z - x.z) * share, 1};
}

void set_colours(ImGuiStyle& style, const Palette& p) {
  const auto set = [&style](ImGuiCol which, ImVec4 colour) { style.Colors[which] = colour; };
  const auto plain = [](ImU32 colour) { return ImGui::ColorConvertU32ToFloat4(colour); };
  set(ImGuiCol_Text, plain(p.text));
  set(ImGuiCol_TextDisabled, plain(p.dim));
  set(ImGuiCol_WindowBg, plain(p.ground));
  set(ImGuiCol_ChildBg, plain(p.ground));
  set(ImGuiCol_PopupBg, plain(p.panel));
  set(ImGuiCol_Border, plain(p.line));
  set(ImGuiCol_FrameBg, plain(p.panel));
  set(ImGuiCol_FrameBgHovered, mixed(p.panel, p.strong, 0.15F));
  set(ImGuiCol_FrameBgActive, mixed(p.panel, p.strong, 0.25F));
  set(ImGuiCol_Button, plain(p.button));
  set(ImGuiCol_ButtonHovered, mixed(p.button, p.strong, 0.3F));
  set(ImGuiCol_ButtonActive, mixed(p.button, p.strong, 0.5F));
  set(ImGuiCol_Header, mixed(p.ground, p.strong, 0.25F));
  set(ImGuiCol_HeaderHovered, mixed(p.ground, p.strong, 0.35F));
  set(ImGuiCol_HeaderActive, mixed(p.ground, p.strong, 0.45F));
  set(ImGuiCol_TableHeaderBg, plain(p.panel));
  set(ImGuiCol_TableBorderStrong, plain(p.line));
  set(ImGuiCol_TableBorderLight, mixed(p.ground, p.line, 0.5F));
  set(ImGuiCol_TableRowBgAlt, mixed(p.ground, p.panel, 0.6F));
  set(ImGuiCol_ScrollbarBg, plain(p.ground));
  set(ImGuiCol_ScrollbarGrab, plain(p.line));
  set(ImGuiCol_CheckMark, plain(p.strong));
  set(ImGuiCol_PlotHistogram, plain(p.strong));
  set(ImGuiCol_NavHighlight, plain(p.tagging));
  set(ImGuiCol_TextSelectedBg, mixed(p.panel, p.strong, 0.5F));
  set(ImGuiCol_Separator, plain(p.line));
}

}  // namespace

const Palette& palette() { return *chosen; }

ImU32 colour_of(const StripItem& item) {
  switch (item.look) {
    case ItemLook::by_sound: return sky;
    case ItemLook::by_hand: return purple;
    case ItemLook::by_clock: return orange;
    case ItemLook::dropout: return vermillion;
    case ItemLook::work: return tones.at(static_cast<std::size_t>(item.tone));
    case ItemLook::pause: return yellow;
    case ItemLook::mark: return palette().text;
    case ItemLook::riveting: return orange;
    case ItemLook::quiet: return palette().dim;
    case ItemLook::signal: return purple;
  }
  return sky;
}

ImU32 with_alpha(ImU32 colour, float alpha) {
  const auto value = static_cast<ImU32>(alpha * 255.0F);
  return (colour & ~IM_COL32_A_MASK) | (value << IM_COL32_A_SHIFT);
}

void use_theme(Paper paper, float scale) {
  chosen = paper == Paper::dark ? &dark : &light;
  ImGuiStyle style;
  style.WindowPadding = {12, 10};
  style.FramePadding = {12, 8};
  style.ItemSpacing = {8, 8};
  style.ItemInnerSpacing = {6, 6};
  style.CellPadding = {8, 6};
  style.ScrollbarSize = 16;
  style.FrameRounding = 4;
  style.ChildRounding = 4;
  style.PopupRounding = 4;
  style.WindowBorderSize = 0;
  style.ScaleAllSizes(scale);
  set_colours(style, *chosen);
  ImGui::GetStyle() = style;
}

}  // namespace jigtime::app
