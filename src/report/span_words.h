// Spans as tables say them.
#pragma once

#include <string>

#include "journal/values.h"

namespace jigtime::report {

/// Task, assembly and plan reference, a line each; "Break" for a break.
std::string span_what(const journal::Register& known, const journal::Span& span);
/// A line a call-out.
std::string span_fasteners(const journal::Span& span);
/// "sheet 7, step 9"; empty where the task refers to none.
std::string plan_words(const journal::Task& task);

}  // namespace jigtime::report
