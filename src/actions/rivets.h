// Fasteners over all sessions: planned against set, and what is worth a second look.
// Begin reading at: tally_rivets.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "journal/fasteners.h"
#include "store/store.h"

namespace jigtime::actions {

enum class RivetsBy { task, location };

/// The thickness of the whole stack in one task, in place of what the plan states line by line.
struct StatedGrip {
  std::string task;  ///< title
  int grip_uin = 0;  ///< millionths of an inch
};

struct RivetsAsked {
  RivetsBy by = RivetsBy::task;
  std::vector<StatedGrip> grips;
};

struct RivetTable {
  struct Line {
    std::string task;      ///< empty by location
    std::string location;  ///< path of the assembly; empty where the task has none
    journal::FastenerBalance balance;
  };
  std::vector<Line> lines;
  std::vector<std::string> warnings;  ///< each says what is odd, then what the builder can do
};

/// Warnings are by task whatever is asked: two lengths of one diameter and head in one task; more set than planned; set
/// but not in the task's plan; a length that suits a stated grip by none of the published rules. They decide nothing.
/// Errors: not_found (no such task), invalid (a grip that is none), the store's.
Result<RivetTable> tally_rivets(const store::Store& store, const RivetsAsked& asked = {});

/// "Rivet skin=0.064" as the command line has it. Code::invalid otherwise.
Result<StatedGrip> parse_stated_grip(const std::string& text);

}  // namespace jigtime::actions
