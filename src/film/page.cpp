#include "film/page.h"

#include <algorithm>
#include <array>
#include <utility>

#include "base/text.h"
#include "film/canvas.h"

namespace jigtime::film {
namespace {

/// Okabe and Ito, "Color Universal Design" (2008): sky blue, orange, bluish green, yellow, blue, vermillion, reddish
/// purple. Black, the eighth, does not show on a dark page.
constexpr std::array<Colour, 7> camera_colours{{{0.34, 0.71, 0.91},
                                                {0.90, 0.62, 0.00},
                                                {0.00, 0.62, 0.45},
                                                {0.94, 0.89, 0.26},
                                                {0.00, 0.45, 0.70},
                                                {0.84, 0.37, 0.00},
                                                {0.80, 0.47, 0.65}}};
constexpr Colour paper{0.09, 0.09, 0.10};
constexpr Colour empty_panel{0.15, 0.15, 0.17};
constexpr Colour ink{0.95, 0.95, 0.95};
constexpr Colour pale_ink{0.75, 0.75, 0.78};
constexpr Colour plate{0.0, 0.0, 0.0, 0.6};
constexpr Colour mark_ink{0.94, 0.89, 0.26};
constexpr int edge = 2;

std::string off_text(const Off& off) {
  std::string text = "Off";
  if (off.since) text += " since " + to_short_clock_text(off.since->time_since_epoch());
  if (off.until) text += (off.since ? ", until " : " until ") + to_short_clock_text(off.until->time_since_epoch());
  if (!off.until && off.since) text += ", to the end";
  return text + ".";
}

std::string text_of(const Seen& seen) {
  switch (seen.shows) {
    case Shows::picture: return {};
    case Shows::off: return off_text(seen.off);
    case Shows::sound_only: return "Only sound was recorded.";
    case Shows::gone: return seen.words;
    case Shows::unreadable: return "Cannot be read: " + seen.words;
  }
  return {};
}

}  // namespace

struct Page::Impl {
  Layout layout;
  std::vector<std::string> names;
  Canvas canvas;
  Picture picture;

  int text_size() const { return std::clamp(layout.width / 64, 9, 48); }
  void draw_panel(std::size_t camera, const Seen& seen);
  void draw_name(std::size_t camera);
  void draw_words(const Words& words);
};

void Page::Impl::draw_panel(std::size_t camera, const Seen& seen) {
  const Box& box = layout.panels[camera];
  canvas.fill(box, empty_panel);
  if (seen.shows == Shows::picture) {
    canvas.fit(seen.picture, box);
  } else {
    const int margin = box.width / 10;
    canvas.write_lines(text_of(seen),
                       {box.left + margin, box.top + box.height * 2 / 5, box.width - 2 * margin, box.height / 2},
                       text_size(), ink);
  }
  // A line between neighbours.
  canvas.fill({box.left + box.width - edge, box.top, edge, box.height}, paper);
  canvas.fill({box.left, box.top + box.height - edge, box.width, edge}, paper);
  draw_name(camera);
}

void Page::Impl::draw_name(std::size_t camera) {
  const Box& box = layout.panels[camera];
  const int size = text_size() * 4 / 5;
  const int pad = size / 2;
  const int most = box.width / 2;
  Colour hidden = ink;
  hidden.cover = 0;
  const int width = canvas.write(names[camera], box.left, box.top, size, most, Weight::bold, hidden);
  canvas.fill({box.left, box.top, width + 3 * pad, size * 7 / 4}, plate);
  canvas.fill({box.left, box.top, pad, size * 7 / 4}, camera_colours[camera % camera_colours.size()]);
  canvas.write(names[camera], box.left + 2 * pad, box.top + pad / 2, size, most, Weight::bold, ink);
}

void Page::Impl::draw_words(const Words& words) {
  const Box& box = layout.words;
  canvas.fill(box, paper);
  const int size = text_size();
  const int pad = size * 3 / 5;
  const int most = box.width - 2 * pad;
  int top = box.top + pad;
  const auto line = [&](const std::string& text, Weight weight, Colour colour) {
    if (text.empty() || top + size * 5 / 4 > box.top + box.height - pad / 2) return;
    canvas.write(text, box.left + pad, top, size, most, weight, colour);
    top += size * 3 / 2;
  };
  line(words.clock, Weight::plain, pale_ink);
  line(words.doing, Weight::bold, ink);
  line(words.people, Weight::plain, ink);
  line(words.mark.empty() ? "" : "Mark: " + words.mark, Weight::bold, mark_ink);
  const int bar = std::max(edge, size / 5);
  const Box whole{box.left, box.top + box.height - bar, box.width, bar};
  canvas.fill(whole, empty_panel);
  canvas.fill({whole.left, whole.top, static_cast<int>(whole.width * std::clamp(words.part_done, 0.0, 1.0)), bar}, ink);
}

Page::Page(Layout layout, std::vector<std::string> camera_names)
    : impl_{new Impl{layout, std::move(camera_names), Canvas{layout.width, layout.height},
                     Picture::blank(layout.width, layout.height)}} {}
Page::Page(Page&&) noexcept = default;
Page& Page::operator=(Page&&) noexcept = default;
Page::~Page() = default;

const Picture& Page::draw(const std::vector<Seen>& seen, const Words& words) {
  Impl& self = *impl_;
  for (std::size_t i = 0; i < self.layout.panels.size() && i < seen.size(); ++i) self.draw_panel(i, seen[i]);
  self.draw_words(words);
  self.canvas.to_picture(self.picture);
  return self.picture;
}

}  // namespace jigtime::film
