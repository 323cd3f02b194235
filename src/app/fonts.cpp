#include "app/fonts.h"

#include <fontconfig/fontconfig.h>

#include <cmath>
#include <memory>

namespace jigtime::app {
namespace {

using Pattern = std::unique_ptr<FcPattern, decltype(&FcPatternDestroy)>;

/// Letters of the languages written with Latin, Greek and Cyrillic letters, and the signs this window uses.
constexpr ImWchar body_ranges[] = {0x0020, 0x00FF, 0x0100, 0x024F, 0x0370, 0x03FF, 0x0400, 0x04FF, 0x1E00,
                                   0x1EFF, 0x2010, 0x203A, 0x20A0, 0x20BF, 0x2190, 0x2199, 0x2200, 0x2265,
                                   0x25A0, 0x25FF, 0x2713, 0x2717, 0xFFFD, 0xFFFD, 0};
constexpr ImWchar big_ranges[] = {0x0020, 0x017F, 0x2010, 0x2026, 0};

}  // namespace

std::string preferred_font() {
  if (FcInit() == FcFalse) return {};
  const Pattern wanted{FcNameParse(reinterpret_cast<const FcChar8*>("sans-serif:scalable=true:fontformat=TrueType")),
                       &FcPatternDestroy};
  FcConfigSubstitute(nullptr, wanted.get(), FcMatchPattern);
  FcDefaultSubstitute(wanted.get());
  FcResult result = FcResultNoMatch;
  const Pattern match{FcFontMatch(nullptr, wanted.get(), &result), &FcPatternDestroy};
  FcChar8* file = nullptr;
  if (!match || FcPatternGetString(match.get(), FC_FILE, 0, &file) != FcResultMatch) return {};
  const std::string path{reinterpret_cast<const char*>(file)};
  return path.ends_with(".ttf") || path.ends_with(".ttc") ? path : std::string{};
}

Fonts load_fonts(const std::string& file, float body_px) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  Fonts fonts;
  ImFontConfig config;
  config.OversampleH = 1;
  config.PixelSnapH = true;
  if (!file.empty()) {
    fonts.body = atlas.AddFontFromFileTTF(file.c_str(), std::round(body_px), &config, body_ranges);
    fonts.big = atlas.AddFontFromFileTTF(file.c_str(), std::round(body_px * 1.5F), &config, big_ranges);
  }
  if (fonts.body == nullptr) {
    atlas.Clear();
    config.SizePixels = std::round(body_px);
    fonts.body = atlas.AddFontDefault(&config);
    fonts.big = fonts.body;
  }
  return fonts;
}

}  // namespace jigtime::app
