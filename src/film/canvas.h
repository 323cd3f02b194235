// What a page is drawn with: pictures, boxes and words. The drawing library stays behind it.
#pragma once

#include <memory>
#include <string>

#include "base/picture.h"
#include "film/layout.h"

namespace jigtime::film {

/// Each from 0 to 1.
struct Colour {
  double red = 0;
  double green = 0;
  double blue = 0;
  double cover = 1;
};

enum class Weight { plain, bold };

class Canvas {
 public:
  /// Precondition: 0 < width, height < 32768.
  Canvas(int width, int height);
  Canvas(Canvas&&) noexcept;
  Canvas& operator=(Canvas&&) noexcept;
  ~Canvas();

  void fill(const Box& box, Colour colour);
  /// As large as fits, in the middle, its shape kept.
  void fit(const Picture& picture, const Box& box);
  /// One line with its top left corner there, cut with an ellipsis at `most_width`. Returns its width.
  int write(const std::string& text, int left, int top, int size, int most_width, Weight weight, Colour colour);
  /// Broken into lines between words, as many as fit into the box.
  void write_lines(const std::string& text, const Box& box, int size, Colour colour);

  /// Precondition: `picture` has this size.
  void to_picture(Picture& picture) const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::film
