#include "app/view/settings.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "base/text.h"

namespace jigtime::app {
namespace {

constexpr std::array scales{100, 110, 125, 150, 175, 200};

/// Keeps what there was when the text is no number within the bounds.
void take_number(std::string_view text, int least, int most, int& value) {
  int read = 0;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), read);
  if (end.ec == std::errc{} && end.ptr == text.data() + text.size() && read >= least && read <= most) value = read;
}

void take(Settings& settings, std::string_view key, std::string_view value) {
  if (key == "paper") settings.paper = value == "light" ? Paper::light : Paper::dark;
  if (key == "scale_percent") take_number(value, least_scale, most_scale, settings.scale_percent);
  if (key == "width") take_number(value, 320, 16384, settings.width);
  if (key == "height") take_number(value, 240, 16384, settings.height);
  if (key == "copies_gb") take_number(value, 1, 10000, settings.copies_gb);
  if (key == "journal" && !value.empty() && settings.journals.size() < most_journals)
    settings.journals.emplace_back(value);
}

}  // namespace

Settings read_settings(std::string_view text) {
  Settings settings;
  for (const std::string& line : split(text, '\n')) {
    const std::size_t colon = line.find(':');
    if (colon == std::string::npos) continue;
    take(settings, trimmed(std::string_view{line}.substr(0, colon)), trimmed(std::string_view{line}.substr(colon + 1)));
  }
  return settings;
}

std::string write_settings(const Settings& settings) {
  std::string text = "paper: " + std::string{settings.paper == Paper::light ? "light" : "dark"} +
                     "\nscale_percent: " + std::to_string(settings.scale_percent) +
                     "\nwidth: " + std::to_string(settings.width) + "\nheight: " + std::to_string(settings.height) +
                     "\ncopies_gb: " + std::to_string(settings.copies_gb) + "\n";
  for (const auto& journal : settings.journals) {
    if (journal.string().find('\n') == std::string::npos) text += "journal: " + journal.string() + "\n";
  }
  return text;
}

void remember(Settings& settings, const std::filesystem::path& journal) {
  std::erase(settings.journals, journal);
  settings.journals.insert(settings.journals.begin(), journal);
  if (settings.journals.size() > most_journals) settings.journals.resize(most_journals);
}

int next_scale(int percent, int direction) {
  if (direction > 0) {
    const auto next = std::upper_bound(scales.begin(), scales.end(), percent);
    return next == scales.end() ? scales.back() : *next;
  }
  const auto next = std::lower_bound(scales.begin(), scales.end(), percent);
  return next == scales.begin() ? scales.front() : *(next - 1);
}

}  // namespace jigtime::app
