// The session's timeline as a printed document and as a drawing by itself.
// Begin reading at: timeline_pdf.
#pragma once

#include <string>

#include "base/result.h"
#include "report/report.h"

namespace jigtime::report {

/// The same as the page, on A4 across. Errors: internal when the drawing library fails.
Result<std::string> timeline_pdf(const Timeline& timeline);

/// The strips below each other with their key, letters as outlines: it looks the same wherever it is opened.
Result<std::string> timeline_svg(const Timeline& timeline);

}  // namespace jigtime::report
