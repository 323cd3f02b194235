// The settings in the XDG folder.
#pragma once

#include <filesystem>

#include "app/view/settings.h"
#include "base/result.h"

namespace jigtime::app {

/// $XDG_CONFIG_HOME/jigtime/window.txt, else ~/.config/jigtime/window.txt; empty where there is no home.
std::filesystem::path settings_path();
/// Never an error: what cannot be read is as if it were not there. Journals that are gone are left out.
Settings load_settings();
Done save_settings(const Settings& settings);
/// Where journals are usually kept: the folder for documents, else home.
std::filesystem::path documents_folder();

}  // namespace jigtime::app
