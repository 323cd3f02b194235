#include "report/lines.h"

#include <pango/pangocairo.h>

#include <string>
#include <unordered_set>
#include <vector>

#include "report/clean.h"

namespace jigtime::report {
namespace {

struct Unreference {
  void operator()(void* object) const { g_object_unref(object); }
};
struct FreeFont {
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
};
struct FreeOptions {
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};
struct FreeItem {
  void operator()(PangoGlyphItem* item) const { pango_glyph_item_free(item); }
};
struct FreeIterator {
  void operator()(PangoLayoutIter* at) const { pango_layout_iter_free(at); }
};
using Context = std::unique_ptr<PangoContext, Unreference>;
using FontMap = std::unique_ptr<PangoFontMap, Unreference>;
using Font = std::unique_ptr<PangoFontDescription, FreeFont>;
using Layout = std::unique_ptr<PangoLayout, Unreference>;
using Item = std::unique_ptr<PangoGlyphItem, FreeItem>;

double to_points(int pango_units) { return static_cast<double>(pango_units) / PANGO_SCALE; }

/// All that decides how a text comes to be set. Colour does not.
struct Asked {
  std::string_view text;  ///< clean
  double size = 0;
  double width = 0;
  int most = 0;
  Side side = Side::left;
  bool bold = false;
  bool italic = false;
  bool mono = false;
  bool own_direction = false;

  bool operator==(const Asked&) const = default;
};

struct Run {
  Item item;
  double x = 0;  ///< from the line's left end
};

struct SetLine {
  double top = 0;
  double bottom = 0;
  double baseline = 0;
  double x = 0;
  std::vector<Run> runs;
};

}  // namespace

struct SetText {
  std::string text;
  Asked asked;  ///< its text is the one above
  double width = 0;
  double height = 0;
  std::vector<SetLine> lines;
};

namespace {

struct Hash {
  using is_transparent = void;
  std::size_t operator()(const Asked& asked) const {
    const std::size_t text = std::hash<std::string_view>{}(asked.text);
    return text ^ (std::hash<double>{}(asked.width * 31 + asked.size) << 1U);
  }
  std::size_t operator()(const std::shared_ptr<const SetText>& set) const { return (*this)(set->asked); }
};
struct Equal {
  using is_transparent = void;
  static const Asked& of(const Asked& asked) { return asked; }
  static const Asked& of(const std::shared_ptr<const SetText>& set) { return set->asked; }
  template <class A, class B>
  bool operator()(const A& a, const B& b) const {
    return of(a) == of(b);
  }
};

SetLine line_at(PangoLayoutIter* at, std::size_t& bytes) {
  SetLine line;
  int top = 0;
  int bottom = 0;
  pango_layout_iter_get_line_yrange(at, &top, &bottom);
  PangoRectangle place;
  pango_layout_iter_get_line_extents(at, nullptr, &place);
  line.top = to_points(top);
  line.bottom = to_points(bottom);
  line.baseline = to_points(pango_layout_iter_get_baseline(at));
  line.x = to_points(place.x);
  int x = 0;
  for (const GSList* run = pango_layout_iter_get_line_readonly(at)->runs; run != nullptr; run = run->next) {
    auto* item = static_cast<PangoGlyphItem*>(run->data);
    line.runs.push_back({Item{pango_glyph_item_copy(item)}, to_points(x)});
    x += pango_glyph_string_get_width(item->glyphs);
    bytes += sizeof(PangoGlyphItem) + sizeof(PangoItem) + sizeof(PangoGlyphString) +
             static_cast<std::size_t>(item->glyphs->num_glyphs) * (sizeof(PangoGlyphInfo) + sizeof(int));
  }
  return line;
}

}  // namespace

struct TypeCase::Impl {
  FontMap fonts;
  Context context;
  Layout layout;
  Type type{0, false, false, false, "", false};
  std::unordered_set<std::shared_ptr<const SetText>, Hash, Equal> kept;
  std::size_t kept_bytes = 0;

  void take_type(const Asked& wanted) {
    if (wanted.size == type.size && wanted.bold == type.bold && wanted.italic == type.italic &&
        wanted.mono == type.mono) {
      return;
    }
    type = {wanted.size, wanted.bold, wanted.italic, wanted.mono};
    const Font font{pango_font_description_new()};
    pango_font_description_set_family(font.get(),
                                      wanted.mono ? "DejaVu Sans Mono,monospace" : "DejaVu Sans,sans-serif");
    pango_font_description_set_size(font.get(), static_cast<int>(wanted.size * PANGO_SCALE));
    pango_font_description_set_weight(font.get(), wanted.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(font.get(), wanted.italic ? PANGO_STYLE_OBLIQUE : PANGO_STYLE_NORMAL);
    pango_layout_set_font_description(layout.get(), font.get());
  }

  std::shared_ptr<const SetText> set(const Asked& asked) {
    if (const auto found = kept.find(asked); found != kept.end()) return *found;
    take_type(asked);
    pango_layout_set_auto_dir(layout.get(), asked.own_direction ? TRUE : FALSE);
    pango_layout_set_width(layout.get(), asked.width > 0 ? static_cast<int>(asked.width * PANGO_SCALE) : -1);
    pango_layout_set_alignment(layout.get(), asked.side == Side::left    ? PANGO_ALIGN_LEFT
                                             : asked.side == Side::right ? PANGO_ALIGN_RIGHT
                                                                         : PANGO_ALIGN_CENTER);
    pango_layout_set_height(layout.get(), asked.most > 0 ? -asked.most : -1);
    pango_layout_set_ellipsize(layout.get(), asked.most > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_text(layout.get(), asked.text.data(), static_cast<int>(asked.text.size()));
    return keep(taken(asked));
  }

  std::shared_ptr<SetText> taken(const Asked& asked) {
    auto set = std::make_shared<SetText>();
    set->text = asked.text;
    set->asked = asked;
    set->asked.text = set->text;
    int width = 0;
    int height = 0;
    pango_layout_get_size(layout.get(), &width, &height);
    set->width = to_points(width);
    set->height = to_points(height);
    const std::unique_ptr<PangoLayoutIter, FreeIterator> at{pango_layout_get_iter(layout.get())};
    do set->lines.push_back(line_at(at.get(), kept_bytes));
    while (pango_layout_iter_next_line(at.get()) != FALSE);
    // A name in a table begins where its column does; only what fills lines is set on the right.
    if (asked.own_direction && asked.side == Side::left && set->lines.size() == 1) set->lines.front().x = 0;
    return set;
  }

  std::shared_ptr<const SetText> keep(std::shared_ptr<const SetText> set) {
    constexpr std::size_t most_bytes = std::size_t{100} << 20U;
    if (kept_bytes < most_bytes) kept.insert(set);
    return set;
  }
};

TypeCase::TypeCase() : impl_{std::make_unique<Impl>()} {
  impl_->fonts.reset(pango_cairo_font_map_new());
  pango_cairo_font_map_set_resolution(reinterpret_cast<PangoCairoFontMap*>(impl_->fonts.get()), 72);  // NOLINT: GObject
  impl_->context.reset(pango_font_map_create_context(impl_->fonts.get()));
  PangoContext* context = impl_->context.get();
  pango_context_set_base_dir(context, PANGO_DIRECTION_LTR);
  const std::unique_ptr<cairo_font_options_t, FreeOptions> options{cairo_font_options_create()};
  // Paper has no pixels to fit letters to.
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(context, options.get());
  pango_context_set_round_glyph_positions(context, FALSE);
  impl_->layout.reset(pango_layout_new(context));
  pango_layout_set_wrap(impl_->layout.get(), PANGO_WRAP_WORD_CHAR);
  // A hyphen in a file's name or a digest would read as part of it.
  PangoAttrList* attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_insert_hyphens_new(FALSE));
  // Letters grown together are not found again by who searches for a digest that has "ff" in it.
  pango_attr_list_insert(attributes, pango_attr_font_features_new("liga=0, clig=0, dlig=0"));
  pango_layout_set_attributes(impl_->layout.get(), attributes);
  pango_attr_list_unref(attributes);
}
TypeCase::~TypeCase() = default;

Lines::Lines(Canvas& canvas) : canvas_{&canvas} {}

void Lines::set(std::string_view text, const Type& type, double width, Side side, int most) {
  const std::string shown = clean(text);
  colour_ = type.colour;
  set_ = canvas_->type_case().impl_->set(
      {shown, type.size, width, most, side, type.bold, type.italic, type.mono, type.own_direction});
}

double Lines::height() const { return set_->height; }

double Lines::width() const { return set_->width; }

int Lines::count() const { return static_cast<int>(set_->lines.size()); }

int Lines::fitting(int first, double height) const {
  int fits = 0;
  for (int i = first; i < count(); ++i, ++fits) {
    if (height_of(first, fits + 1) > height) break;
  }
  return fits;
}

double Lines::height_of(int first, int count) const {
  if (count <= 0) return 0;
  const auto from = static_cast<std::size_t>(first);
  return set_->lines[from + static_cast<std::size_t>(count) - 1].bottom - set_->lines[from].top;
}

void Lines::draw(double x, double y) const { draw(x, y, 0, count()); }

void Lines::draw(double x, double y, int first, int count) const {
  if (count <= 0) return;
  canvas_->take_ink(colour_);
  cairo_t* pen = canvas_->pen();
  const double from = first == 0 ? 0 : set_->lines[static_cast<std::size_t>(first)].top;
  for (int i = first; i < first + count; ++i) {
    const SetLine& line = set_->lines[static_cast<std::size_t>(i)];
    for (const Run& run : line.runs) {
      cairo_move_to(pen, x + line.x + run.x, y + line.baseline - from);
      pango_cairo_show_glyph_item(pen, set_->text.c_str(), run.item.get());
    }
  }
}

}  // namespace jigtime::report
