// A printed document as values: headings, paragraphs, tables, pictures, in order. Built once, written as PDF or HTML.
// Must never know: pages, fonts, HTML; what the document is about.
// Begin reading at: Document.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "report/facts.h"
#include "report/layout.h"
#include "report/table.h"

namespace jigtime::report {

/// Levels 1 and 2 stand in the table of contents, all levels in the outline where they have an anchor.
struct Heading {
  int level = 1;  ///< 1 to 3
  std::string text;
  std::string anchor;  ///< unique in the document; letters, digits and '-'; may be empty
};

enum class Voice { plain, small, strong, caution, mono };

struct Paragraph {
  std::string text;  ///< a line feed stays a new line
  Voice voice = Voice::plain;
  std::string link{};  ///< anchor it leads to; may be empty
};

struct FactList {
  std::vector<Fact> facts;
};

enum class PictureKind { still, photo };

struct Picture {
  std::int64_t key = 0;  ///< by which Document::picture gives its bytes
  std::string caption;
  PictureKind kind = PictureKind::still;
};

/// What stands in a frame that has no picture.
std::string_view words_for_no_picture(PictureKind kind, bool damaged);

/// Side by side, row by row.
struct PictureGrid {
  std::vector<Picture> pictures;
};

/// Strips of a session's drawing, and what their colours and patterns mean.
struct DrawnStrip {
  StripLayout layout;
  int number = 1;
  int of = 1;
};
struct DrawnKey {};

/// What stands on the first page: large, by itself.
struct TitlePage {
  std::string over;  ///< above the title, small
  std::string title;
  std::vector<std::string> lines;
  std::vector<Fact> facts;
  std::vector<Paragraph> notice;  ///< what the document is and is not
};

struct Contents {};
struct PageBreak {};

using Block = std::variant<Heading, Paragraph, FactList, Table, PictureGrid, DrawnStrip, DrawnKey, TitlePage, Contents,
                           PageBreak>;

enum class Format { portrait, landscape };

struct Document {
  std::string title;
  std::string subject;
  std::string head;  ///< above every page but the first
  std::string made;  ///< RFC 3339
  Format format = Format::portrait;
  std::vector<Block> blocks;
  /// A JPEG file's bytes; empty where there are none. May be empty itself.
  std::function<std::vector<std::uint8_t>(const Picture& picture)> picture;
};

/// Takes the bytes of a file as they come.
using Sink = std::function<Done(std::string_view bytes)>;

/// A4, with page numbers, links and an outline. A heading is never the last thing on a page; a table's head stands on
/// every page of it. Fonts are those that fontconfig finds for each script. Errors: the sink's; unsupported when the
/// drawing library fails.
Done write_pdf(const Document& document, const Sink& sink);

/// One self-contained page without script, well-formed XML. Errors: the sink's.
Done write_html(const Document& document, const Sink& sink);

}  // namespace jigtime::report
