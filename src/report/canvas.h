// Paper to draw on: shapes, pictures, links. It and lines.cpp are the only homes of the drawing library.
// Must never know: what is drawn.
// Begin reading at: Canvas.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "report/document.h"

struct _cairo;

namespace jigtime::report {

class TypeCase;

/// Points, 1/72 inch.
struct Size {
  double width = 0;
  double height = 0;
};

struct Pen {
  std::string_view colour = "#000000";
  double width = 1;
  double dash = 0;  ///< 0: a plain line
};

/// One thread; lengths in points, y downward from the page's top.
class Canvas {
 public:
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  ~Canvas();

  /// Nothing reaches the sink but the file's bytes, in order; the first failure of it is what finish() returns.
  /// `type_case` may serve several canvases, one after the other.
  static std::unique_ptr<Canvas> pdf(Size page, Sink sink, std::shared_ptr<TypeCase> type_case);
  static std::unique_ptr<Canvas> svg(Size page, Sink sink, std::shared_ptr<TypeCase> type_case);

  void describe(const Document& document);  ///< pdf only
  void next_page();
  Done finish();

  void push();  ///< remembers place, scale and window until pop()
  void pop();
  void move_origin(double x, double y);
  void scale(double by);
  void window(const Box& box);  ///< nothing outside it is drawn

  void fill(const Box& box, std::string_view colour, double opacity = 1);
  void outline(const Box& box, const Pen& pen);
  void line(double x1, double y1, double x2, double y2, const Pen& pen);
  void dot(double x, double y, double radius, std::string_view colour, double opacity);
  /// The JPEG file as it is, not decoded. Precondition: jpeg_size knows it.
  void picture(std::span<const std::uint8_t> jpeg, const Box& box);

  void anchor(const std::string& name, double x, double y);
  /// Leads to an anchor of any page; pdf only. Places as they are on the page, whatever the origin.
  void link(const Box& box, const std::string& anchor);
  /// What is drawn in between is text of that kind (ISO 32000-1, 14.8.4: "H1", "P", "Table", "TR", "TD" and so on), for
  /// those who have it read to them. May be nested, and may go on over pages; pdf only.
  void begin_tag(const char* tag);
  void end_tag(const char* tag);
  /// Number of the new line of the outline; 0 is the root. An empty anchor is not allowed.
  int add_outline(int parent, const std::string& text, const std::string& anchor);

 private:
  friend class Lines;
  struct Impl;
  _cairo* pen() const;
  TypeCase& type_case() const;
  void take_ink(std::string_view colour);
  explicit Canvas(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// What a JPEG file says its picture's size is; nothing for anything else.
std::optional<Size> jpeg_size(std::span<const std::uint8_t> bytes);

}  // namespace jigtime::report
