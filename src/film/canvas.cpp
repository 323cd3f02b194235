#include "film/canvas.h"

#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

namespace jigtime::film {
namespace {

// Falls back to what the machine has where this font is missing.
constexpr const char* font = "DejaVu Sans";
constexpr double line_step = 1.35;

struct SurfaceDeleter {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct ContextDeleter {
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};
using SurfacePtr = std::unique_ptr<cairo_surface_t, SurfaceDeleter>;
using ContextPtr = std::unique_ptr<cairo_t, ContextDeleter>;

/// The drawing library keeps a pixel in one number, blue in the low byte, and rows with their own length.
SurfacePtr surface_of(const Picture& picture) {
  SurfacePtr surface{cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height)};
  if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS) return nullptr;
  std::uint8_t* rows = cairo_image_surface_get_data(surface.get());
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface.get()));
  for (int y = 0; y < picture.height; ++y) {
    auto* to = reinterpret_cast<std::uint32_t*>(rows + static_cast<std::size_t>(y) * stride);
    const std::uint8_t* from = &picture.rgba[static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) * 4];
    for (int x = 0; x < picture.width; ++x, from += 4) {
      to[x] = static_cast<std::uint32_t>(from[0]) << 16U | static_cast<std::uint32_t>(from[1]) << 8U | from[2];
    }
  }
  cairo_surface_mark_dirty(surface.get());
  return surface;
}

/// The text without its last character, UTF-8.
void drop_last(std::string& text) {
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
  if (!text.empty()) text.pop_back();
}

}  // namespace

struct Canvas::Impl {
  int width;
  int height;
  SurfacePtr surface;
  ContextPtr context;

  double width_of(const std::string& text) const {
    cairo_text_extents_t extents{};
    cairo_text_extents(context.get(), text.c_str(), &extents);
    return extents.x_advance;
  }
  void choose(int size, Weight weight, Colour colour) const {
    cairo_select_font_face(context.get(), font, CAIRO_FONT_SLANT_NORMAL,
                           weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(context.get(), size);
    cairo_set_source_rgba(context.get(), colour.red, colour.green, colour.blue, colour.cover);
  }
};

Canvas::Canvas(int width, int height) : impl_{new Impl{width, height, {}, {}}} {
  impl_->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  impl_->context.reset(cairo_create(impl_->surface.get()));
}
Canvas::Canvas(Canvas&&) noexcept = default;
Canvas& Canvas::operator=(Canvas&&) noexcept = default;
Canvas::~Canvas() = default;

void Canvas::fill(const Box& box, Colour colour) {
  cairo_t* to = impl_->context.get();
  cairo_set_source_rgba(to, colour.red, colour.green, colour.blue, colour.cover);
  cairo_rectangle(to, box.left, box.top, box.width, box.height);
  cairo_fill(to);
}

void Canvas::fit(const Picture& picture, const Box& box) {
  const SurfacePtr surface = surface_of(picture);
  if (surface == nullptr) return;
  const double scale =
      std::min(static_cast<double>(box.width) / picture.width, static_cast<double>(box.height) / picture.height);
  cairo_t* to = impl_->context.get();
  cairo_save(to);
  cairo_rectangle(to, box.left, box.top, box.width, box.height);
  cairo_clip(to);
  cairo_translate(to, box.left + std::floor((box.width - picture.width * scale) / 2),
                  box.top + std::floor((box.height - picture.height * scale) / 2));
  cairo_scale(to, scale, scale);
  cairo_set_source_surface(to, surface.get(), 0, 0);
  // Without this the picture's edges fade where it is enlarged.
  cairo_pattern_set_extend(cairo_get_source(to), CAIRO_EXTEND_PAD);
  cairo_pattern_set_filter(cairo_get_source(to), CAIRO_FILTER_BILINEAR);
  cairo_rectangle(to, 0, 0, picture.width, picture.height);
  cairo_fill(to);
  cairo_restore(to);
}

int Canvas::write(const std::string& text, int left, int top, int size, int most_width, Weight weight, Colour colour) {
  impl_->choose(size, weight, colour);
  std::string shown = text;
  double width = impl_->width_of(shown);
  for (std::string left_over = text; width > most_width && !left_over.empty();) {
    drop_last(left_over);
    shown = left_over + "\xE2\x80\xA6";
    width = impl_->width_of(shown);
  }
  cairo_font_extents_t extents{};
  cairo_font_extents(impl_->context.get(), &extents);
  cairo_move_to(impl_->context.get(), left, top + extents.ascent);
  cairo_show_text(impl_->context.get(), shown.c_str());
  return static_cast<int>(std::ceil(width));
}

void Canvas::write_lines(const std::string& text, const Box& box, int size, Colour colour) {
  impl_->choose(size, Weight::plain, colour);
  std::vector<std::string> lines{""};
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    const std::string joined = lines.back().empty() ? word : lines.back() + " " + word;
    if (impl_->width_of(joined) <= box.width || lines.back().empty()) {
      lines.back() = joined;
    } else {
      lines.push_back(word);
    }
    at = end + 1;
  }
  const int step = static_cast<int>(size * line_step);
  int top = box.top;
  for (const std::string& line : lines) {
    if (top + step > box.top + box.height) return;
    write(line, box.left, top, size, box.width, Weight::plain, colour);
    top += step;
  }
}

void Canvas::to_picture(Picture& picture) const {
  cairo_surface_flush(impl_->surface.get());
  const std::uint8_t* rows = cairo_image_surface_get_data(impl_->surface.get());
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(impl_->surface.get()));
  std::uint8_t* to = picture.rgba.data();
  for (int y = 0; y < impl_->height; ++y) {
    const auto* from = reinterpret_cast<const std::uint32_t*>(rows + static_cast<std::size_t>(y) * stride);
    for (int x = 0; x < impl_->width; ++x, to += 4) {
      to[0] = static_cast<std::uint8_t>(from[x] >> 16U);
      to[1] = static_cast<std::uint8_t>(from[x] >> 8U);
      to[2] = static_cast<std::uint8_t>(from[x]);
      to[3] = 255;
    }
  }
}

}  // namespace jigtime::film
