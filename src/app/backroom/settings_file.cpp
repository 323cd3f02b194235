#include "app/backroom/settings_file.h"

#include <cstdlib>

#include "actions/whole_file.h"

namespace jigtime::app {
namespace {

namespace fs = std::filesystem;

fs::path home() {
  const char* named = std::getenv("HOME");
  return named != nullptr && named[0] == '/' ? fs::path{named} : fs::path{};
}

}  // namespace

fs::path settings_path() {
  const char* named = std::getenv("XDG_CONFIG_HOME");
  if (named != nullptr && named[0] == '/') return fs::path{named} / "jigtime" / "window.txt";
  return home().empty() ? fs::path{} : home() / ".config" / "jigtime" / "window.txt";
}

Settings load_settings() {
  if (settings_path().empty()) return {};
  const auto text = actions::read_text(settings_path());
  Settings settings = text ? read_settings(*text) : Settings{};
  std::erase_if(settings.journals, [](const fs::path& journal) {
    std::error_code gone;
    return !fs::exists(journal, gone);
  });
  return settings;
}

Done save_settings(const Settings& settings) {
  const fs::path path = settings_path();
  if (path.empty()) return {};
  std::error_code ignored;
  fs::create_directories(path.parent_path(), ignored);
  return actions::write_whole(path, write_settings(settings));
}

fs::path documents_folder() {
  std::error_code gone;
  const fs::path documents = home() / "Documents";
  if (fs::is_directory(documents, gone)) return documents;
  return home().empty() ? fs::current_path(gone) : home();
}

}  // namespace jigtime::app
