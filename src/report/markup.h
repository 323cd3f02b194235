// Writes elements, attributes and text so that the result is well-formed XML and HTML at once.
// Must never know: what is written with it.
// Begin reading at: Markup.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace jigtime::report {

using Attributes = std::initializer_list<std::pair<std::string_view, std::string_view>>;

/// Every text and every attribute value is escaped; elements are closed innermost first, the last ones by finish().
/// Tag and attribute names are ours and written as they are. An element that HTML knows as void (br, img, meta) and the
/// shapes of SVG are written with leaf(); all others get an end tag even when empty, as HTML asks for.
class Markup {
 public:
  Markup& open(std::string_view tag, Attributes attributes = {});
  Markup& close();
  Markup& text(std::string_view text);
  Markup& element(std::string_view tag, std::string_view text, Attributes attributes = {});
  Markup& leaf(std::string_view tag, Attributes attributes);
  /// Written as it is: our own style sheet and document type, which hold neither < nor &.
  Markup& verbatim(std::string_view ours);
  /// What was written since it was last asked for; what is open stays open.
  std::string take() { return std::exchange(written_, {}); }
  std::size_t size() const { return written_.size(); }
  /// Closes what is open and hands the text over; the object is then empty.
  std::string finish();

 private:
  void start(std::string_view tag, Attributes attributes);
  std::string written_;
  std::vector<std::string_view> open_;
};

}  // namespace jigtime::report
