// The canonical text of a session's entry, and the chain.
// Must never know: which SHA-256 is used; the digest function is handed in.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "journal/hours.h"
#include "journal/values.h"

namespace jigtime::journal {

/// Stable, line-based, UTF-8, LF. Every line is "key: value" with \\, \n escaped. Same record, same bytes.
/// Holds build, date, place, people with roles, hours per task and person, spans, fasteners, notes, marks, and each
/// part's name, size and digest.
std::string canonical_text(const Build& build, const Register& known, const SessionRecord& record);

using Sha256Hex = std::function<std::string(std::string_view)>;

/// Hex digest that entry `number` must carry.
std::string chain_digest(std::string_view previous, std::string_view text, const Sha256Hex& sha256);

struct ChainFault {
  int number = 0;
  std::string what;  ///< whole sentence
};
/// The first entry that does not fit, in order of number; nothing when all do.
std::optional<ChainFault> first_fault(const std::vector<Entry>& entries, const Sha256Hex& sha256);

}  // namespace jigtime::journal
