#include "report/canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <cstring>

#include "base/text.h"
#include "report/clean.h"
#include "report/lines.h"
#include "report/pdf_update.h"

namespace jigtime::report {
namespace {

struct DestroySurface {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct DestroyCairo {
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using Surface = std::unique_ptr<cairo_surface_t, DestroySurface>;
using Cairo = std::unique_ptr<cairo_t, DestroyCairo>;

double channel(std::string_view colour, std::size_t at) {
  const auto digit = [&](std::size_t i) { return colour[i] <= '9' ? colour[i] - '0' : (colour[i] & ~32) - 'A' + 10; };
  return (digit(at) * 16 + digit(at + 1)) / 255.0;
}

/// "#RRGGBB".
void take_colour(cairo_t* cairo, std::string_view colour, double opacity = 1) {
  cairo_set_source_rgba(cairo, channel(colour, 1), channel(colour, 3), channel(colour, 5), opacity);
}

/// Quotes and backslashes would end the attribute.
std::string attribute(std::string_view name, std::string_view value) {
  std::string text = std::string{name} + "='";
  for (const char c : value) {
    if (c == '\'' || c == '\\') text += '\\';
    text += c;
  }
  return text + "'";
}

}  // namespace

struct Canvas::Impl {
  Sink sink;
  Done sunk;         ///< the sink's first failure
  PdfUpdate update;  // before the surface: one that was never finished writes once more when it goes
  Surface surface;
  Cairo cairo;
  std::shared_ptr<TypeCase> type_case;
  Size page;
  int page_number = 1;

  static cairo_status_t write(void* closure, const unsigned char* bytes, unsigned int count) {
    auto* self = static_cast<Impl*>(closure);
    if (!self->sunk) return CAIRO_STATUS_WRITE_ERROR;
    const std::string_view written{reinterpret_cast<const char*>(bytes), count};  // NOLINT: bytes are bytes
    self->update.watch(written);
    if (self->sink) self->sunk = self->sink(written);
    return self->sunk ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
  }

  void begin(cairo_surface_t* made) {
    surface.reset(made);
    cairo.reset(cairo_create(made));
  }
};

Canvas::Canvas(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
Canvas::~Canvas() = default;

cairo_t* Canvas::pen() const { return impl_->cairo.get(); }
TypeCase& Canvas::type_case() const { return *impl_->type_case; }
void Canvas::take_ink(std::string_view colour) { take_colour(impl_->cairo.get(), colour); }

std::unique_ptr<Canvas> Canvas::pdf(Size page, Sink sink, std::shared_ptr<TypeCase> type_case) {
  auto impl = std::make_unique<Impl>();
  impl->sink = std::move(sink);
  impl->type_case = std::move(type_case);
  impl->page = page;
  impl->begin(cairo_pdf_surface_create_for_stream(&Impl::write, impl.get(), page.width, page.height));
  // Later versions may be written so that a page is no object of its own.
  cairo_pdf_surface_restrict_to_version(impl->surface.get(), CAIRO_PDF_VERSION_1_4);
  return std::unique_ptr<Canvas>{new Canvas{std::move(impl)}};
}

std::unique_ptr<Canvas> Canvas::svg(Size page, Sink sink, std::shared_ptr<TypeCase> type_case) {
  auto impl = std::make_unique<Impl>();
  impl->sink = std::move(sink);
  impl->type_case = std::move(type_case);
  impl->begin(cairo_svg_surface_create_for_stream(&Impl::write, impl.get(), page.width, page.height));
  return std::unique_ptr<Canvas>{new Canvas{std::move(impl)}};
}

void Canvas::describe(const Document& document) {
  cairo_surface_t* surface = impl_->surface.get();
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, clean(document.title).c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, clean(document.subject).c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Jigtime");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, document.made.c_str());
}

void Canvas::next_page() {
  cairo_show_page(impl_->cairo.get());
  ++impl_->page_number;
}

Done Canvas::finish() {
  cairo_surface_finish(impl_->surface.get());
  if (!impl_->sunk) return impl_->sunk;
  const cairo_status_t drawn = cairo_status(impl_->cairo.get());
  const cairo_status_t kept = cairo_surface_status(impl_->surface.get());
  const cairo_status_t status = drawn != CAIRO_STATUS_SUCCESS ? drawn : kept;
  if (status == CAIRO_STATUS_SUCCESS) {
    const std::string update = impl_->update.text();
    return update.empty() || !impl_->sink ? Done{} : impl_->sink(update);
  }
  return Error{Code::internal, std::string{"The drawing failed ("} + cairo_status_to_string(status) + ")."};
}

void Canvas::push() { cairo_save(impl_->cairo.get()); }
void Canvas::pop() { cairo_restore(impl_->cairo.get()); }
void Canvas::move_origin(double x, double y) { cairo_translate(impl_->cairo.get(), x, y); }
void Canvas::scale(double by) { cairo_scale(impl_->cairo.get(), by, by); }

void Canvas::window(const Box& box) {
  cairo_rectangle(impl_->cairo.get(), box.x, box.y, box.width, box.height);
  cairo_clip(impl_->cairo.get());
}

void Canvas::fill(const Box& box, std::string_view colour, double opacity) {
  cairo_t* cairo = impl_->cairo.get();
  cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
  take_colour(cairo, colour, opacity);
  cairo_fill(cairo);
}

void Canvas::outline(const Box& box, const Pen& pen) {
  cairo_t* cairo = impl_->cairo.get();
  cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
  take_colour(cairo, pen.colour);
  cairo_set_line_width(cairo, pen.width);
  cairo_set_dash(cairo, &pen.dash, pen.dash > 0 ? 1 : 0, 0);
  cairo_stroke(cairo);
}

void Canvas::line(double x1, double y1, double x2, double y2, const Pen& pen) {
  cairo_t* cairo = impl_->cairo.get();
  cairo_move_to(cairo, x1, y1);
  cairo_line_to(cairo, x2, y2);
  take_colour(cairo, pen.colour);
  cairo_set_line_width(cairo, pen.width);
  cairo_set_dash(cairo, &pen.dash, pen.dash > 0 ? 1 : 0, 0);
  cairo_stroke(cairo);
}

void Canvas::dot(double x, double y, double radius, std::string_view colour, double opacity) {
  cairo_t* cairo = impl_->cairo.get();
  cairo_new_sub_path(cairo);
  cairo_arc(cairo, x, y, radius, 0, 6.283185307179586);
  take_colour(cairo, colour, opacity);
  cairo_fill(cairo);
}

void Canvas::picture(std::span<const std::uint8_t> jpeg, const Box& box) {
  const auto size = jpeg_size(jpeg);
  if (!size) return;
  cairo_t* cairo = impl_->cairo.get();
  // Its pixels are never looked at: the PDF takes the file as it is.
  const Surface image{
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(size->width), static_cast<int>(size->height))};
  auto* kept = static_cast<unsigned char*>(std::malloc(jpeg.size()));
  if (kept == nullptr) return;
  std::memcpy(kept, jpeg.data(), jpeg.size());
  if (cairo_surface_set_mime_data(image.get(), CAIRO_MIME_TYPE_JPEG, kept, jpeg.size(), &std::free, kept) !=
      CAIRO_STATUS_SUCCESS) {
    std::free(kept);
    return;
  }
  cairo_save(cairo);
  cairo_translate(cairo, box.x, box.y);
  cairo_scale(cairo, box.width / size->width, box.height / size->height);
  cairo_set_source_surface(cairo, image.get(), 0, 0);
  cairo_paint(cairo);
  cairo_restore(cairo);
}

void Canvas::anchor(const std::string& name, double x, double y) {
  cairo_t* cairo = impl_->cairo.get();
  const std::string attributes =
      attribute("name", name) + " x=" + to_decimal_text(x, 2) + " y=" + to_decimal_text(y, 2);
  cairo_tag_begin(cairo, CAIRO_TAG_DEST, attributes.c_str());
  cairo_tag_end(cairo, CAIRO_TAG_DEST);
}

void Canvas::begin_tag(const char* tag) { cairo_tag_begin(impl_->cairo.get(), tag, nullptr); }
void Canvas::end_tag(const char* tag) { cairo_tag_end(impl_->cairo.get(), tag); }

void Canvas::link(const Box& box, const std::string& anchor) {
  const double bottom = impl_->page.height - box.y - box.height;
  impl_->update.add(impl_->page_number, {box.x, bottom, box.x + box.width, bottom + box.height, anchor});
}

int Canvas::add_outline(int parent, const std::string& text, const std::string& anchor) {
  return cairo_pdf_surface_add_outline(impl_->surface.get(), parent, clean(text).c_str(),
                                       attribute("dest", anchor).c_str(),
                                       parent == 0 ? CAIRO_PDF_OUTLINE_FLAG_BOLD : cairo_pdf_outline_flags_t{});
}

std::optional<Size> jpeg_size(std::span<const std::uint8_t> bytes) {
  const auto pair = [&](std::size_t at) { return bytes[at] * 256 + bytes[at + 1]; };
  if (bytes.size() < 4 || pair(0) != 0xFFD8) return std::nullopt;
  // ITU-T T.81, annex B: segments of a marker and a length, until the one that begins the frame.
  for (std::size_t at = 2; at + 9 < bytes.size() && bytes[at] == 0xFF;) {
    const int marker = bytes[at + 1];
    const bool frame = marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
    if (frame) {
      const Size size{static_cast<double>(pair(at + 7)), static_cast<double>(pair(at + 5))};
      return size.width > 0 && size.height > 0 ? std::optional{size} : std::nullopt;
    }
    at += 2 + static_cast<std::size_t>(pair(at + 2));
  }
  return std::nullopt;
}

}  // namespace jigtime::report
