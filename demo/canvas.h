// A picture to draw on. The drawing library stays behind it.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "base/picture.h"
#include "demo/geometry.h"

namespace jigtime::demo {

/// Each from 0 to 1.
struct Colour {
  double red = 0;
  double green = 0;
  double blue = 0;
  double cover = 1;

  Colour faded(double by) const { return {red, green, blue, cover * by}; }
  Colour darker(double by) const { return {red * by, green * by, blue * by, cover}; }
};

/// From `first` at `from` to `last` at `to`.
struct Blend {
  Dot from;
  Colour first;
  Dot to;
  Colour last;
};

class Canvas {
 public:
  /// Clear all over. Precondition: 0 < width, height < 32768.
  Canvas(int width, int height);
  Canvas(Canvas&&) noexcept;
  Canvas& operator=(Canvas&&) noexcept;
  ~Canvas();

  int width() const { return width_; }
  int height() const { return height_; }

  void fill(std::span<const Dot> shape, Colour colour);
  void fill(std::span<const Dot> shape, const Blend& blend);
  /// Ends and corners are round. `width` in pixels.
  void stroke(std::span<const Dot> line, double width, Colour colour);
  void ellipse(Dot centre, double across, double down, Colour colour);
  /// Light around a lamp: full at the centre, gone at `radius`.
  void glow(Dot centre, double radius, Colour colour);

  /// Takes over the other's pixels. Precondition: same size.
  void copy(const Canvas& other);
  /// Lays the other on top, its top left corner at a whole pixel.
  void lay(const Canvas& other, int left, int top);

  /// Precondition: `picture` has this size. Clear parts come out black.
  void to_picture(Picture& picture) const;

 private:
  struct Impl;
  void trace(std::span<const Dot> shape);
  int width_;
  int height_;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::demo
