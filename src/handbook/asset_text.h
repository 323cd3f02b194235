// The lines of an asset: a text file of ours or the builder's, one fact a line.
// Must never know: what the lines say.
// Begin reading at: read_asset_lines.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace jigtime::handbook {

struct AssetLine {
  int number = 0;    ///< in the file, from 1
  std::string text;  ///< without blanks at either end, never empty
};

/// Comments and empty lines are left out; LF, CRLF and a byte order mark are allowed. Code::invalid when the first line
/// is not `heading`, for text that is not UTF-8, and above one megabyte.
Result<std::vector<AssetLine>> read_asset_lines(std::string_view text, std::string_view heading);

/// What is wrong in a file, line by line. At most twenty are told.
class AssetFaults {
 public:
  void add(int line, const std::string& what);
  bool none() const { return faults_.empty(); }
  /// Code::invalid with every fault. Precondition: not none().
  Error error() const;

 private:
  std::vector<std::string> faults_;
};

/// Fields parted by '|', without blanks at their ends.
std::vector<std::string> bar_fields(std::string_view text);

/// A name that stands for the file: a small letter, then small letters, digits or single dashes; at most 40.
bool is_asset_name(std::string_view name);

/// "name: metal" gives {"name", "metal"}; nothing without a colon behind one word.
struct KeyValue {
  std::string key;
  std::string value;
};
bool split_key(std::string_view text, KeyValue& out);

}  // namespace jigtime::handbook
