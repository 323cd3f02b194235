// What the page can do where script runs: find words, and draw the strips wider. Without it nothing is missing.
#pragma once

#include <string_view>

namespace jigtime::report {

/// Holds neither < nor &, so that it may stand in XML as it is.
extern const std::string_view page_script;

/// The policy the page states for itself (Content Security Policy, level 3): nothing is fetched, no other script runs.
/// It names the script by its SHA-256.
extern const std::string_view page_policy;

}  // namespace jigtime::report
