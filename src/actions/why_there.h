// Why a clip lies where it lies, in a builder's words.
#pragma once

#include <string>
#include <vector>

#include "journal/values.h"
#include "store/store.h"

namespace jigtime::actions {

struct WhyThere {
  journal::SessionId session;
  std::string camera;
  std::string file;
  journal::Basis basis = journal::Basis::none;
  std::vector<std::string> sentences;  ///< whole ones, the most telling first
};

/// Reads what the last line-up left; nothing is lined up. `file` is the base name of any part of the clip; without a
/// session all of them are searched. Errors: not_found (no such file, with what there is), conflict (the same name in
/// several sessions or of several cameras: say which session), the store's.
Result<WhyThere> why_there(store::Store& store, const std::string& file, std::optional<journal::SessionId> session);

/// The same for a clip at hand.
std::vector<std::string> why_there(const journal::Register& known, const journal::SessionRecord& record,
                                   const journal::Clip& clip);

}  // namespace jigtime::actions
