// A document as one page of HTML, handed over as it grows.
#include "base/text.h"
#include "report/base64.h"
#include "report/canvas.h"
#include "report/clean.h"
#include "report/document.h"
#include "report/markup.h"
#include "report/style.h"
#include "report/svg.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

std::string_view class_of(Voice voice) {
  switch (voice) {
    case Voice::plain: return "plain";
    case Voice::small: return "small-print";
    case Voice::strong: return "strong";
    case Voice::caution: return "caution";
    case Voice::mono: return "mono";
  }
  return "plain";
}

class HtmlWriter {
 public:
  HtmlWriter(Markup& page, const Document& document) : page_{page}, document_{document} {}

  void put(const Heading& heading) {
    const std::string_view tag = heading.level == 1 ? "h2" : heading.level == 2 ? "h3" : "h4";
    if (heading.anchor.empty()) {
      page_.element(tag, heading.text);
    } else {
      page_.element(tag, heading.text, {{"id", heading.anchor}});
    }
  }
  void put(const Paragraph& paragraph) {
    if (paragraph.text.empty()) return;
    page_.open("p", {{"class", class_of(paragraph.voice)}});
    if (paragraph.link.empty()) {
      page_.text(paragraph.text);
    } else {
      page_.element("a", paragraph.text, {{"href", "#" + paragraph.link}});
    }
    page_.close();
  }
  void put(const FactList& list) {
    if (list.facts.empty()) return;
    page_.open("dl", {{"class", "facts"}});
    for (const Fact& fact : list.facts) {
      page_.element("dt", fact.name);
      if (fact.words == Whose::builders) {
        page_.element("dd", fact.value, {{"class", "own"}});
      } else {
        page_.element("dd", fact.value);
      }
    }
    page_.close();
  }
  void put(const Table& table) {
    if (!table.rows.empty() || !table.when_empty.empty()) write_table(page_, table);
  }
  void put(const PictureGrid& grid) {
    page_.open("ol", {{"class", "marks"}});
    for (const Picture& picture : grid.pictures) {
      page_.open("li").open("figure");
      const auto bytes = document_.picture ? document_.picture(picture) : std::vector<std::uint8_t>{};
      if (jpeg_size(bytes)) {
        page_.leaf("img", {{"src", "data:image/jpeg;base64," + to_base64(bytes)}, {"alt", one_line(picture.caption)}});
      } else {
        page_.element("p", words_for_no_picture(picture.kind, !bytes.empty()), {{"class", "no-still"}});
      }
      page_.element("figcaption", picture.caption).close().close();
    }
    page_.close();
  }
  void put(const DrawnStrip& strip) {
    page_.open("div", {{"class", "drawing"}});
    draw_strip(page_, strip.layout, strip.number, strip.of);
    page_.close();
  }
  void put(const DrawnKey&) { draw_key(page_); }
  void put(const TitlePage& title) {
    page_.open("header").element("p", title.over, {{"class", "over-title"}}).element("h1", title.title);
    for (const std::string& line : title.lines) page_.element("p", line, {{"class", "subtitle"}});
    put(FactList{title.facts});
    page_.open("div", {{"class", "attention"}});
    for (const Paragraph& paragraph : title.notice) put(paragraph);
    page_.close().close();
  }
  void put(const Contents&) {
    page_.open("ul", {{"class", "contents"}});
    for (const Block& block : document_.blocks) {
      const auto* heading = std::get_if<Heading>(&block);
      if (heading == nullptr || heading->anchor.empty() || heading->level > 2) continue;
      page_.open("li", {{"class", heading->level == 1 ? "first" : "second"}});
      page_.element("a", heading->text, {{"href", "#" + heading->anchor}}).close();
    }
    page_.close();
  }
  void put(const PageBreak&) {}

 private:
  Markup& page_;
  const Document& document_;
};

void write_head(Markup& page, const Document& document) {
  page.verbatim("<!DOCTYPE html>\n").open("html", {{"lang", "en"}}).open("head");
  page.leaf("meta", {{"charset", "utf-8"}});
  page.leaf("meta", {{"http-equiv", "Content-Security-Policy"},
                     {"content", "default-src 'none'; img-src data:; style-src 'unsafe-inline'"}});
  page.leaf("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  page.leaf("meta", {{"name", "generator"}, {"content", "Jigtime"}});
  page.element("title", document.title).open("style").verbatim(style_sheet).verbatim(book_style_sheet);
  page.close().close().open("body").open("main");
}

}  // namespace

std::string_view words_for_no_picture(PictureKind kind, bool damaged) {
  if (kind == PictureKind::photo) return "The photo's file cannot be read, and it is not shown.";
  return damaged ? "The still is damaged and is not shown." : "No still.";
}

Done write_html(const Document& document, const Sink& sink) {
  Markup page;
  write_head(page, document);
  HtmlWriter writer{page, document};
  constexpr std::size_t handful = 1 << 20;
  for (const Block& block : document.blocks) {
    std::visit([&](const auto& one) { writer.put(one); }, block);
    if (page.size() < handful) continue;
    if (Done taken = sink(page.take()); !taken) return taken;
  }
  return sink(page.finish());
}

}  // namespace jigtime::report
