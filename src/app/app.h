// The window's door.
#pragma once

#include <filesystem>

namespace jigtime::app {

/// Opens the window, with that journal if one is named, and returns when it is closed: 0; or 3, with words on the
/// terminal, where no window can be shown.
int run_window(const std::filesystem::path& journal);

}  // namespace jigtime::app
