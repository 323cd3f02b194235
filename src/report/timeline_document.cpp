#include "report/timeline_document.h"

#include "base/text.h"
#include "handbook/callout.h"
#include "report/clean.h"
#include "report/day.h"
#include "report/document.h"
#include "report/lines.h"
#include "report/strip_picture.h"
#include "report/strips.h"
#include "report/tables.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

constexpr double margin = 20;
constexpr double title_height = 34;

std::vector<DrawnStrip> strips_of(const Day& day) {
  std::vector<DrawnStrip> drawn;
  const std::vector<Strip> strips = strips_for(shown_ranges(day), strips_wanted(day));
  for (const Strip& strip : strips) {
    drawn.push_back({layout_of(day, strip), static_cast<int>(drawn.size()) + 1, static_cast<int>(strips.size())});
  }
  return drawn;
}

std::string title_of(const Timeline& timeline) {
  return one_line(timeline.build.name) + ", " + date_words(timeline.record.session.date);
}

void add_opening(Document& document, const Timeline& timeline, const Day& day) {
  document.blocks.push_back(Heading{1, title_of(timeline), "session"});
  if (!timeline.build.place.empty()) document.blocks.push_back(Paragraph{one_line(timeline.build.place)});
  document.blocks.push_back(FactList{facts_of(timeline, day)});
  document.blocks.push_back(FactList{times_of(timeline)});
  for (const std::string& sentence : attention_of(timeline, day)) {
    document.blocks.push_back(Paragraph{sentence, Voice::caution});
  }
}

void add_drawing(Document& document, const Day& day) {
  document.blocks.push_back(Heading{1, "The session on one clock", "drawing"});
  std::vector<DrawnStrip> strips = strips_of(day);
  if (strips.empty()) {
    document.blocks.push_back(
        Paragraph{"There is nothing to draw: no clip has a place, and there is neither a span "
                  "nor a mark."});
  } else {
    document.blocks.push_back(DrawnKey{});
  }
  for (DrawnStrip& strip : strips) document.blocks.push_back(std::move(strip));
  document.blocks.push_back(unplaced_table(day));
}

void add_marks(Document& document, const Timeline& timeline) {
  document.blocks.push_back(Heading{1, "Marks", "marks"});
  PictureGrid grid;
  int number = 0;
  for (const journal::Mark& mark : timeline.record.marks) {
    std::string caption = "M" + std::to_string(++number) + "  " + to_clock_text(mark.at);
    if (!mark.note.empty()) caption += "\n" + clean(mark.note);
    grid.pictures.push_back({mark.id.value, std::move(caption)});
  }
  if (grid.pictures.empty()) document.blocks.push_back(Paragraph{"No mark was set in this session."});
  document.blocks.push_back(std::move(grid));
}

void add_tables(Document& document, const Timeline& timeline, const Day& day) {
  document.blocks.push_back(Heading{1, "What was done", "spans"});
  document.blocks.push_back(spans_table(timeline));
  document.blocks.push_back(Heading{1, "Fasteners", "fasteners"});
  document.blocks.push_back(fasteners_table(timeline));
  document.blocks.push_back(Heading{1, "Hours", "hours"});
  document.blocks.push_back(hours_table(timeline));
  document.blocks.push_back(Heading{1, "Footage", "footage"});
  for (Table& table :
       std::vector<Table>{cameras_table(day), clips_table(day), dropouts_table(day), unreadable_table(timeline)}) {
    document.blocks.push_back(std::move(table));
  }
}

}  // namespace

Result<std::string> timeline_pdf(const Timeline& timeline) {
  const Day day = day_of(timeline);
  Document document;
  document.title = title_of(timeline);
  document.subject = "Session record of the builder";
  document.head = document.title;
  document.made = to_text(timeline.made);
  document.format = Format::landscape;
  document.picture = [&](const Picture& picture) {
    const auto still = timeline.stills.find(journal::MarkId{picture.key});
    return still == timeline.stills.end() ? std::vector<std::uint8_t>{} : still->second;
  };
  add_opening(document, timeline, day);
  add_drawing(document, day);
  add_marks(document, timeline);
  add_tables(document, timeline, day);
  document.blocks.push_back(Heading{1, "What this is, and what it is not", "about"});
  for (const std::string_view words : page_notice()) document.blocks.push_back(Paragraph{std::string{words}});
  std::string bytes;
  const Done written = write_pdf(document, [&](std::string_view part) -> Done {
    bytes += part;
    return {};
  });
  if (!written) return written.error();
  return bytes;
}

Result<std::string> timeline_svg(const Timeline& timeline) {
  const std::vector<DrawnStrip> strips = strips_of(day_of(timeline));
  double height = 2 * margin + title_height + key_height;
  for (const DrawnStrip& strip : strips) height += strip.layout.height + 14;
  std::string bytes;
  const auto canvas = Canvas::svg(
      {page_width + 2 * margin, height},
      [&](std::string_view part) -> Done {
        bytes += part;
        return {};
      },
      std::make_shared<TypeCase>());
  canvas->fill({0, 0, page_width + 2 * margin, height}, "#FFFFFF");
  canvas->move_origin(margin, margin);
  Lines title{*canvas};
  title.set(title_of(timeline), {16, true, false, false, "#000000"}, page_width, Side::left, 1);
  title.draw(0, 0);
  canvas->move_origin(0, title_height);
  draw_key(*canvas);
  canvas->move_origin(0, key_height);
  for (const DrawnStrip& strip : strips) {
    draw_strip(*canvas, strip.layout);
    canvas->move_origin(0, strip.layout.height + 14);
  }
  if (Done finished = canvas->finish(); !finished) return finished.error();
  return bytes;
}

}  // namespace jigtime::report
