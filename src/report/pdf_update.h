// What a finished PDF lacks, added behind it: ISO 32000-1, 7.5.6, "Incremental updates".
// The drawing library of Debian 12 writes link annotations under other numbers than its pages refer to, and names a
// picture twice that stands twice on a page; nor does it say in which language the text is. So links
// are added here, and such lists of resources and the catalog are written anew. Must never know: the drawing library,
// what is on the pages. Begin reading at: PdfUpdate.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace jigtime::report {

/// A place on a page that leads to a named one. In the units of the PDF: points, from the page's lower left corner.
struct PdfLink {
  double left = 0;
  double bottom = 0;
  double right = 0;
  double top = 0;
  std::string destination;
};

class PdfUpdate {
 public:
  /// The file's bytes, in order.
  void watch(std::string_view bytes);
  /// Pages count from 1.
  void add(int page, PdfLink link) { links_[page].push_back(std::move(link)); }
  /// To be written behind the whole file. Empty where nothing is to be added, or the file is not as expected.
  std::string text() const;

 private:
  struct Object {
    int number = 0;
    std::string dictionary;  ///< from << to >>
  };
  void take_object(std::string_view body, int number);

  std::uint64_t size_ = 0;
  std::string pending_;       ///< of an object that has not ended yet, or the last bytes
  std::size_t searched_ = 0;  ///< so far no end was found in it
  std::string tail_;
  std::map<int, Object> pages_;  ///< by page
  std::vector<Object> mended_;
  std::map<int, std::vector<PdfLink>> links_;
};

}  // namespace jigtime::report
