// Puts a trial through the line-up and measures what that costs.
#pragma once

#include "base/result.h"
#include "bench/scoring.h"
#include "sync/line_up.h"

namespace jigtime::bench {

struct Run {
  sync::LineUp result;
  double cpu_s = 0;  ///< features and line-up, of all threads of this process
};

Result<Run> run(const Trial& trial);

}  // namespace jigtime::bench
