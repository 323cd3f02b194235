// Words of the builder's, made fit to leave the journal in any format.
// Must never know: which format.
// Begin reading at: clean.
#pragma once

#include <string>
#include <string_view>

namespace jigtime::report {

/// UTF-8 whatever the bytes; what is no XML character, or would make the text read as another, becomes U+FFFD. Marks
/// that only lay text of two directions side by side are left out. Line feeds and tabs stay, what else ends a line
/// becomes a line feed, other control characters become blanks.
std::string clean(std::string_view text);

/// A name that every usual file system takes and that stays in its folder: letters of any script, digits, '.', '-' and
/// '_' are kept, everything else becomes '_'; no leading or trailing dot, at most `most` bytes, never empty.
std::string safe_file_name(std::string_view name, std::size_t most = 80);

}  // namespace jigtime::report
