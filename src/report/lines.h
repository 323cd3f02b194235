// Text set in lines.
// Must never know: what the text says, pages.
// Begin reading at: Lines.
#pragma once

#include <memory>
#include <string_view>

#include "report/canvas.h"

namespace jigtime::report {

struct Type {
  double size = 9;
  bool bold = false;
  bool italic = false;
  bool mono = false;
  std::string_view colour = "#000000";
  bool own_direction = false;  ///< written from right to left, and on the right if in several lines, where it begins so
};

enum class Side { left, right, centre };

/// Fonts, and texts that were set in them: the same names, times and headings come again on every page of a book, and a
/// book is set twice, so what was set once is kept (up to a hundred megabytes). One thread.
class TypeCase {
 public:
  TypeCase();
  TypeCase(const TypeCase&) = delete;
  TypeCase& operator=(const TypeCase&) = delete;
  ~TypeCase();

 private:
  friend class Lines;
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

struct SetText;

/// A text set in lines, to be drawn on the canvas. May be set again and again. The canvas must outlive it.
class Lines {
 public:
  explicit Lines(Canvas& canvas);

  /// Broken between words, within words where one is wider than `width`; not at all where `width` is 0. `most` lines at
  /// the most, shortened with an ellipsis; 0 for as many as need be.
  void set(std::string_view text, const Type& type, double width, Side side = Side::left, int most = 0);
  // Precondition of all below: set.
  double height() const;
  int count() const;
  /// How many lines from `first` on fit into the height.
  int fitting(int first, double height) const;
  double height_of(int first, int count) const;
  void draw(double x, double y) const;
  void draw(double x, double y, int first, int count) const;
  /// Of the longest line; of the page's width at the most.
  double width() const;

 private:
  Canvas* canvas_;
  std::shared_ptr<const SetText> set_;
  std::string_view colour_;
};

}  // namespace jigtime::report
