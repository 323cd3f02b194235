#include "base/text.h"
#include "report/base64.h"
#include "report/day.h"
#include "report/facts.h"
#include "report/layout.h"
#include "report/markup.h"
#include "report/page_script.h"
#include "report/report.h"
#include "report/style.h"
#include "report/svg.h"
#include "report/tables.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

void write_facts(Markup& page, const std::vector<Fact>& facts, std::string_view kind) {
  page.open("dl", {{"class", kind}});
  // Groups are for the cards; the plain list is a grid of its own and needs its terms as direct children.
  const bool grouped = kind == "times";
  for (const Fact& fact : facts) {
    if (grouped) page.open("div");
    page.element("dt", fact.name);
    if (fact.words == Whose::builders) {
      page.element("dd", fact.value, {{"class", "own"}});
    } else {
      page.element("dd", fact.value);
    }
    if (grouped) page.close();
  }
  page.close();
}

void write_head(Markup& page, const Timeline& timeline) {
  const std::string title = one_line(timeline.build.name) + ", session of " + to_text(timeline.record.session.date);
  page.verbatim("<!DOCTYPE html>\n").open("html", {{"lang", "en"}}).open("head");
  page.leaf("meta", {{"charset", "utf-8"}});
  page.leaf("meta", {{"http-equiv", "Content-Security-Policy"}, {"content", page_policy}});
  page.leaf("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
  // Known by this line as written by Jigtime: an export replaces it, and nothing else of that name.
  page.leaf("meta", {{"name", "generator"}, {"content", "Jigtime"}});
  page.element("title", title).open("style").verbatim(style_sheet).close().close();
}

void write_attention(Markup& page, const Timeline& timeline, const Day& day) {
  const std::vector<std::string> sentences = attention_of(timeline, day);
  if (sentences.empty()) return;
  page.open("div", {{"class", "attention"}}).element("h3", "Know before you rely on it").open("ul");
  for (const std::string& sentence : sentences) page.element("li", sentence);
  page.close().close();
}

void write_opening(Markup& page, const Timeline& timeline, const Day& day) {
  page.open("header");
  page.element("p", "Session record", {{"class", "over-title"}});
  page.element("h1", one_line(timeline.build.name) + ", " + date_words(timeline.record.session.date));
  if (!timeline.build.place.empty()) page.element("p", one_line(timeline.build.place), {{"class", "subtitle"}});
  write_facts(page, facts_of(timeline, day), "facts");
  write_facts(page, times_of(timeline), "times");
  write_attention(page, timeline, day);
  page.close();
}

void write_drawing(Markup& page, const Day& day) {
  page.open("section").element("h2", "The session on one clock");
  const std::vector<Strip> strips = strips_for(shown_ranges(day), strips_wanted(day));
  if (strips.empty()) {
    page.element("p", "There is nothing to draw: no clip has a place, and there is neither a span nor a mark.",
                 {{"class", "empty"}});
  } else {
    page.element("p",
                 "Every strip shows the same length of time, one below the other, in hours, minutes and seconds of the "
                 "session clock. C is a clip, S a span, M a mark; the numbers are those of the tables.");
    draw_key(page);
  }
  page.open("div", {{"class", "drawing"}});
  int number = 0;
  for (const Strip& strip : strips) {
    if (strip.left_out > Length{0}) {
      page.element("p", "Nothing for " + length_words(strip.left_out) + ".", {{"class", "left-out"}});
    }
    draw_strip(page, layout_of(day, strip), ++number, static_cast<int>(strips.size()));
  }
  page.close().element("h3", "Not in the drawing");
  write_table(page, unplaced_table(day));
  page.close();
}

bool is_jpeg(const std::vector<std::uint8_t>& bytes) {
  return bytes.size() > 3 && bytes[0] == 0xFF && bytes[1] == 0xD8 && bytes[2] == 0xFF;
}

void write_mark(Markup& page, const Timeline& timeline, const journal::Mark& mark, int number) {
  const std::string name = "M" + std::to_string(number);
  const std::string when = to_clock_text(mark.at);
  page.open("li").open("figure");
  const auto still = timeline.stills.find(mark.id);
  if (still == timeline.stills.end() || still->second.empty()) {
    page.element("p", "No still.", {{"class", "no-still"}});
  } else if (!is_jpeg(still->second)) {
    page.element("p", "The still is damaged and is not shown.", {{"class", "no-still"}});
  } else {
    page.leaf("img", {{"src", "data:image/jpeg;base64," + to_base64(still->second)},
                      {"alt", "Still of mark " + name + " at " + when + ": " + one_line(mark.note)}});
  }
  page.open("figcaption").open("p").element("span", name, {{"class", "number-tag"}}).element("b", when).close();
  page.element("p", mark.note.empty() ? "No words were noted." : mark.note).close().close().close();
}

void write_marks(Markup& page, const Timeline& timeline) {
  page.open("section").element("h2", "Marks");
  if (timeline.record.marks.empty()) {
    page.element("p", "No mark was set in this session.", {{"class", "empty"}}).close();
    return;
  }
  page.open("ol", {{"class", "marks"}});
  int number = 0;
  for (const journal::Mark& mark : timeline.record.marks) write_mark(page, timeline, mark, ++number);
  page.close().close();
}

void write_section(Markup& page, std::string_view title, std::initializer_list<Table> tables) {
  page.open("section").element("h2", title);
  for (const Table& table : tables) write_table(page, table);
  page.close();
}

void write_footer(Markup& page) {
  page.open("footer").element("h2", "What this page is, and what it is not");
  for (const std::string_view paragraph : page_notice()) page.element("p", paragraph);
  page.close();
}

}  // namespace

std::string to_html(const Timeline& timeline) {
  const Day day = day_of(timeline);
  Markup page;
  write_head(page, timeline);
  page.open("body").open("main");
  write_opening(page, timeline, day);
  write_drawing(page, day);
  write_marks(page, timeline);
  write_section(page, "What was done", {spans_table(timeline)});
  write_section(page, "Fasteners", {fasteners_table(timeline)});
  write_section(page, "Hours", {hours_table(timeline)});
  write_section(page, "Footage",
                {cameras_table(day), clips_table(day), dropouts_table(day), unreadable_table(timeline)});
  write_footer(page);
  page.close().open("script").verbatim(page_script).close();
  return page.finish();
}

}  // namespace jigtime::report
