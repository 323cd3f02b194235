#include "demo/canvas.h"

#include <cairo.h>

#include <cstring>
#include <numbers>

namespace jigtime::demo {
namespace {

struct SurfaceDeleter {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct ContextDeleter {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};
struct PatternDeleter {
  void operator()(cairo_pattern_t* pattern) const { cairo_pattern_destroy(pattern); }
};
using Pattern = std::unique_ptr<cairo_pattern_t, PatternDeleter>;

void add_stop(const Pattern& pattern, double offset, Colour colour) {
  cairo_pattern_add_color_stop_rgba(pattern.get(), offset, colour.red, colour.green, colour.blue, colour.cover);
}

}  // namespace

struct Canvas::Impl {
  std::unique_ptr<cairo_surface_t, SurfaceDeleter> surface;
  std::unique_ptr<cairo_t, ContextDeleter> context;

  cairo_t* pen() const { return context.get(); }
  void use(Colour colour) const { cairo_set_source_rgba(pen(), colour.red, colour.green, colour.blue, colour.cover); }
};

Canvas::Canvas(int width, int height) : width_{width}, height_{height}, impl_{std::make_unique<Impl>()} {
  impl_->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height));
  impl_->context.reset(cairo_create(impl_->surface.get()));
  cairo_set_line_cap(impl_->pen(), CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join(impl_->pen(), CAIRO_LINE_JOIN_ROUND);
  cairo_set_tolerance(impl_->pen(), 0.2);
  cairo_set_antialias(impl_->pen(), CAIRO_ANTIALIAS_FAST);
}
Canvas::Canvas(Canvas&&) noexcept = default;
Canvas& Canvas::operator=(Canvas&&) noexcept = default;
Canvas::~Canvas() = default;

void Canvas::trace(std::span<const Dot> shape) {
  cairo_new_path(impl_->pen());
  for (const Dot dot : shape) cairo_line_to(impl_->pen(), dot.x, dot.y);
}

void Canvas::fill(std::span<const Dot> shape, Colour colour) {
  trace(shape);
  impl_->use(colour);
  cairo_fill(impl_->pen());
}

void Canvas::fill(std::span<const Dot> shape, const Blend& blend) {
  trace(shape);
  const Pattern pattern{cairo_pattern_create_linear(blend.from.x, blend.from.y, blend.to.x, blend.to.y)};
  add_stop(pattern, 0, blend.first);
  add_stop(pattern, 1, blend.last);
  cairo_set_source(impl_->pen(), pattern.get());
  cairo_fill(impl_->pen());
}

void Canvas::stroke(std::span<const Dot> line, double width, Colour colour) {
  trace(line);
  impl_->use(colour);
  cairo_set_line_width(impl_->pen(), width);
  cairo_stroke(impl_->pen());
}

void Canvas::ellipse(Dot centre, double across, double down, Colour colour) {
  cairo_t* const pen = impl_->pen();
  cairo_save(pen);
  cairo_translate(pen, centre.x, centre.y);
  cairo_scale(pen, across, down);
  cairo_new_path(pen);
  cairo_arc(pen, 0, 0, 1, 0, 2 * std::numbers::pi);
  cairo_restore(pen);
  impl_->use(colour);
  cairo_fill(pen);
}

void Canvas::glow(Dot centre, double radius, Colour colour) {
  const Pattern pattern{cairo_pattern_create_radial(centre.x, centre.y, 0, centre.x, centre.y, radius)};
  add_stop(pattern, 0, colour);
  add_stop(pattern, 1, colour.faded(0));
  cairo_set_source(impl_->pen(), pattern.get());
  cairo_new_path(impl_->pen());
  cairo_rectangle(impl_->pen(), centre.x - radius, centre.y - radius, 2 * radius, 2 * radius);
  cairo_fill(impl_->pen());
}

void Canvas::copy(const Canvas& other) {
  cairo_surface_flush(impl_->surface.get());
  const auto rows = static_cast<std::size_t>(height_);
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(impl_->surface.get()));
  std::memcpy(cairo_image_surface_get_data(impl_->surface.get()),
              cairo_image_surface_get_data(other.impl_->surface.get()), rows * stride);
  cairo_surface_mark_dirty(impl_->surface.get());
}

void Canvas::lay(const Canvas& other, int left, int top) {
  cairo_set_source_surface(impl_->pen(), other.impl_->surface.get(), left, top);
  cairo_new_path(impl_->pen());
  cairo_rectangle(impl_->pen(), left, top, other.width_, other.height_);
  cairo_fill(impl_->pen());
}

void Canvas::to_picture(Picture& picture) const {
  cairo_surface_flush(impl_->surface.get());
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(impl_->surface.get()));
  const std::uint8_t* const data = cairo_image_surface_get_data(impl_->surface.get());
  const auto width = static_cast<std::size_t>(width_);
  for (std::size_t y = 0; y < static_cast<std::size_t>(height_); ++y) {
    const std::uint8_t* from = data + y * stride;
    std::uint8_t* to = picture.rgba.data() + y * width * 4;
    for (std::size_t x = 0; x < width; ++x, from += 4, to += 4) {
      std::uint32_t pixel;  // native-endian 0xAARRGGBB
      std::memcpy(&pixel, from, sizeof pixel);
      to[0] = static_cast<std::uint8_t>(pixel >> 16);
      to[1] = static_cast<std::uint8_t>(pixel >> 8);
      to[2] = static_cast<std::uint8_t>(pixel);
      to[3] = 255;
    }
  }
}

}  // namespace jigtime::demo
