#include "actions/regimes.h"

#include <algorithm>
#include <cstdlib>
#include <map>

#include "actions/checklists.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "handbook/asset_text.h"
#include "handbook/callout.h"
#include "handbook/shipped.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

/// Empty where the system names no home.
fs::path regimes_folder() {
  const char* named = std::getenv("XDG_CONFIG_HOME");
  if (named != nullptr && named[0] == '/') return fs::path{named} / "jigtime" / "regimes";
  const char* home = std::getenv("HOME");
  if (home != nullptr && home[0] == '/') return fs::path{home} / ".config" / "jigtime" / "regimes";
  return {};
}

struct RegimeText {
  std::string text;
  handbook::Regime regime;
};

Result<RegimeText> read_regime(const fs::path& file) {
  auto bytes = read_text(file);
  if (!bytes) return bytes.error();
  auto regime = handbook::parse_regime(*bytes);
  if (!regime) return regime.error().during(to_utf8(file.string()));
  return RegimeText{*std::move(bytes), *std::move(regime)};
}

std::optional<RegimeText> find_text(std::string_view name) {
  if (!handbook::is_asset_name(name)) return std::nullopt;
  if (const fs::path folder = regimes_folder(); !folder.empty()) {
    auto own = read_regime(folder / (std::string{name} + ".txt"));
    if (own && own->regime.name == name) return *std::move(own);
  }
  for (const handbook::Shipped& shipped : handbook::shipped_regimes()) {
    if (shipped.name != name) continue;
    if (auto regime = handbook::parse_regime(shipped.text)) {
      return RegimeText{std::string{shipped.text}, *std::move(regime)};
    }
  }
  return std::nullopt;
}

Done keep_in_journal(store::Store& store, const RegimeText& chosen) {
  auto build = store.build();
  if (!build) return build.error();
  build->regime = chosen.regime.name;
  build->regime_text = chosen.text;
  return store.edit("choose a regime", [&](store::Edit& edit) { return edit.set_build(*build); });
}

/// What this computer has under the name says something else than the journal.
bool differs_here(const journal::Build& build) {
  const auto here = find_text(build.regime);
  const auto kept = handbook::parse_regime(build.regime_text);
  return here && kept && !(here->regime == *kept);
}

std::string held_text(const journal::Inspection& inspection) {
  std::string text = to_text(inspection.date) + ", " + inspection.person;
  if (!inspection.licence.empty()) text += " (" + inspection.licence + ")";
  text += ", " + inspection.looked_at;
  if (inspection.findings.empty()) return text + ", nothing found";
  return text + (inspection.cleared_on ? ", cleared on " + to_text(*inspection.cleared_on) : ", not cleared yet");
}

void tell_counts(const handbook::Regime& regime, const journal::Register& known, RegimeView& view) {
  if (known.checklists.empty()) {
    view.sentences.emplace_back(
        "The journal has no checklist to count. Take one: jigtime checklist JOURNAL --use NAME.");
  }
  for (const journal::Checklist& list : known.checklists) {
    view.sentences.push_back("Checklist " + list.name + ": " +
                             handbook::share_sentence(regime, handbook::sum_of(rows_of(list))));
  }
}

}  // namespace

std::optional<handbook::Regime> find_regime(std::string_view name) {
  auto found = find_text(name);
  return found ? std::optional{std::move(found->regime)} : std::nullopt;
}

std::optional<handbook::Regime> regime_of(const journal::Build& build) {
  if (build.regime_text.empty()) return find_regime(build.regime);
  auto kept = handbook::parse_regime(build.regime_text);
  return kept ? std::optional{*std::move(kept)} : std::nullopt;
}

std::vector<RegimeName> known_regimes() {
  std::map<std::string, std::string> titles;
  const auto add = [&](const std::string& name) {
    if (const auto regime = find_regime(name)) titles[name] = regime->title;
  };
  for (const handbook::Shipped& shipped : handbook::shipped_regimes()) add(std::string{shipped.name});
  std::error_code none;
  const fs::directory_iterator folder{regimes_folder(), none};
  for (auto at = fs::begin(folder); !none && at != fs::end(folder); at.increment(none)) {
    if (at->path().extension() == ".txt") add(at->path().stem().string());
  }
  std::vector<RegimeName> names;
  for (const auto& [name, title] : titles) names.push_back({name, title});
  return names;
}

Done use_regime(store::Store& store, std::string_view name) {
  if (const auto found = find_text(name)) return keep_in_journal(store, *found);
  std::vector<std::string> names;
  for (const RegimeName& regime : known_regimes()) names.push_back(regime.name);
  return Error{Code::not_found, "There is no regime \"" + to_utf8(name) + "\"; there are " + listed(names) +
                                    ". To read one of your own: --import FILE."};
}

Result<std::string> use_regime_file(store::Store& store, const fs::path& file) {
  const auto read = read_regime(file);
  if (!read) return read.error();
  if (const Done kept = keep_in_journal(store, *read); !kept) return kept.error();
  return read->regime.name;
}

Result<std::string> import_regime(const fs::path& file) {
  const auto read = read_regime(file);
  if (!read) return read.error();
  const fs::path folder = regimes_folder();
  if (folder.empty()) {
    return Error{Code::not_found, "The system names no home folder to keep settings in. Set HOME or XDG_CONFIG_HOME."};
  }
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed) {
    return Error{Code::denied,
                 "The folder \"" + to_utf8(folder.string()) + "\" cannot be made: " + failed.message() + "."};
  }
  const Done written = write_whole(folder / (read->regime.name + ".txt"), read->text);
  if (!written) return written.error();
  return read->regime.name;
}

Result<RegimeView> view_regime(const store::Store& store) {
  const auto build = store.build();
  if (!build) return build.error();
  RegimeView view{build->regime, regime_of(*build), {}, {}, std::string{handbook::caution}};
  if (!view.regime) {
    view.sentences.push_back(view.name.empty()
                                 ? "No regime was chosen yet: --use NAME."
                                 : "The regime \"" + view.name +
                                       "\" is not known on this computer. Read its text again: --import FILE.");
    return view;
  }
  const auto known = store.known();
  if (!known) return known.error();
  const auto inspections = store.inspections();
  if (!inspections) return inspections.error();
  for (const handbook::StageInspection& wanted : view.regime->inspections) {
    RegimeView::Stage stage{wanted, {}};
    for (const journal::Inspection& inspection : *inspections) {
      if (inspection.stage == wanted.name) stage.held.push_back(held_text(inspection));
    }
    view.stages.push_back(std::move(stage));
  }
  if (differs_here(*build)) {
    view.sentences.push_back(
        "The journal keeps the text of this regime as it was chosen; this computer has another one "
        "of that name. To take that one: --use " +
        build->regime + ".");
  }
  tell_counts(*view.regime, *known, view);
  return view;
}

}  // namespace jigtime::actions
