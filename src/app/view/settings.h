// What the window remembers between two runs, as values and as text.
// Must never know: where the text is kept (settings_file.h does), ImGui.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace jigtime::app {

enum class Paper { dark, light };

struct Settings {
  Paper paper = Paper::dark;
  int scale_percent = 100;  ///< of all text, 100 to 200, on top of what the screen asks for
  int width = 1280;
  int height = 800;
  int copies_gb = 20;                           ///< space that review copies may take
  std::vector<std::filesystem::path> journals;  ///< the last ones opened, newest first, at most most_journals
  friend bool operator==(const Settings&, const Settings&) = default;
};

inline constexpr std::size_t most_journals = 8;
inline constexpr int least_scale = 100;
inline constexpr int most_scale = 200;

/// "key: value" lines. Unknown keys, bad values and broken lines are passed over: a settings file never stops the
/// window from opening.
Settings read_settings(std::string_view text);
std::string write_settings(const Settings& settings);

/// Puts a journal first among the last ones.
void remember(Settings& settings, const std::filesystem::path& journal);
/// The next step of 12.5 per cent or so: 100, 110, 125, 150, 175, 200.
int next_scale(int percent, int direction);

}  // namespace jigtime::app
