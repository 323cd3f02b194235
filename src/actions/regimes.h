// The rules a build is shown under: those shipped, and the builder's own.
// Begin reading at: view_regime.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "handbook/regime.h"
#include "store/store.h"

namespace jigtime::actions {

struct RegimeName {
  std::string name;
  std::string title;
};
/// Those shipped and those of the builder's own folder, by name; a builder's own stands for a shipped one of its name.
std::vector<RegimeName> known_regimes();

/// The regime as this computer knows it; nothing for an unknown or empty name, and for a text that can no longer be
/// read.
std::optional<handbook::Regime> find_regime(std::string_view name);

/// The rules that lie in the journal; where it has only a name, those this computer knows by it.
std::optional<handbook::Regime> regime_of(const journal::Build& build);

/// The journal's build is shown under it from now on, and its text lies in the journal, for every computer.
/// Code::not_found names those there are.
Done use_regime(store::Store& store, std::string_view name);
/// The same with a text of the builder's own. Returns its name. Errors: not_found, invalid (every bad line).
Result<std::string> use_regime_file(store::Store& store, const std::filesystem::path& file);

/// Checks a text of the builder's own and keeps a copy in the program's settings folder
/// (XDG_CONFIG_HOME/jigtime/regimes, else ~/.config/jigtime/regimes), where every journal on this computer finds it.
/// Returns its name. Errors: not_found, invalid (every bad line), denied, no_space.
Result<std::string> import_regime(const std::filesystem::path& file);

struct RegimeView {
  struct Stage {
    handbook::StageInspection wanted;
    std::vector<std::string> held;  ///< "2026-03-14, Kees Vermeer, cleared 2026-03-20", those the journal has of it
  };
  std::string name;  ///< as the journal has it; empty where none was chosen
  std::optional<handbook::Regime> regime;
  std::vector<Stage> stages;
  std::vector<std::string> sentences;  ///< counts of checklists beside the share; what is missing
  std::string caution;
};
Result<RegimeView> view_regime(const store::Store& store);

}  // namespace jigtime::actions
