// Checklist lines, with the hours, sessions and evidence behind each split.
#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "base/text.h"
#include "handbook/callout.h"
#include "handbook/checklist.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::ChecklistLineId;

/// What stands behind one line.
struct Behind {
  std::array<Length, 4> worked{};  ///< by role
  Length unfilmed{0};
  std::vector<const BookSession*> sessions;
  std::set<std::string> tasks;
  int stills = 0;
  int photos = 0;
  int fasteners = 0;
};

/// The line that a task is carried under, its own or that of the task it is a part of.
std::optional<ChecklistLineId> line_of(const journal::Register& known, std::optional<journal::TaskId> id) {
  const std::size_t deepest = known.tasks.size();
  for (std::size_t i = 0; id && i <= deepest; ++i) {
    const journal::Task* task = known.task(known.meant(*id));
    if (task == nullptr) return std::nullopt;
    if (task->checklist_line) return task->checklist_line;
    id = task->parent;
  }
  return std::nullopt;
}

using ByLine = std::map<ChecklistLineId, Behind>;

void add_hours(const BookGround& ground, const BookSession& session, ByLine& lines) {
  const journal::Register& known = ground.book.known;
  for (const journal::HoursRow& row : session.hours.rows) {
    const auto line = line_of(known, row.task);
    if (!line) continue;
    Behind& behind = lines[*line];
    const journal::Person* person = known.person(row.person);
    behind.worked[person == nullptr ? 0 : static_cast<std::size_t>(person->role)] += row.worked;
    behind.unfilmed += row.unfilmed;
    behind.tasks.insert(ground.task_title(row.task));
    if (behind.sessions.empty() || behind.sessions.back() != &session) behind.sessions.push_back(&session);
  }
}

void add_evidence(const BookGround& ground, const BookSession& session, ByLine& lines) {
  for (const journal::Span& span : session.record.spans) {
    const auto line = line_of(ground.book.known, span.task);
    if (!line) continue;
    Behind& behind = lines[*line];
    const auto within = [&](SessionTime at) { return span.begin <= at && at < span.end; };
    for (const journal::FastenerLine& fastener : span.fasteners) behind.fasteners += fastener.set - fastener.drilled;
    for (const journal::Still& still : session.record.stills) behind.stills += within(still.at) ? 1 : 0;
    for (const journal::Photo& photo : session.record.photos) behind.photos += photo.at && within(*photo.at) ? 1 : 0;
  }
}

std::string hours_words_of(const BookGround& ground, const Behind& behind) {
  std::string text;
  for (std::size_t i = 0; i < behind.worked.size(); ++i) {
    if (behind.worked[i] <= Length{0}) continue;
    text += (text.empty() ? "" : "\n") + std::string{to_text(static_cast<journal::Role>(i))} + " " +
            ground.hours_text(behind.worked[i]);
  }
  return text.empty() ? "none" : text;
}

std::string sessions_words(const Behind& behind) {
  constexpr std::size_t named = 4;
  std::string text;
  for (std::size_t i = 0; i < std::min(named, behind.sessions.size()); ++i) {
    text += (text.empty() ? "" : "\n") + to_text(behind.sessions[i]->record.session.date);
  }
  if (behind.sessions.size() > named) text += "\nand " + std::to_string(behind.sessions.size() - named) + " more";
  return text.empty() ? "none" : text;
}

std::string evidence_words(const Behind& behind) {
  Length worked{0};
  for (const Length length : behind.worked) worked += length;
  std::vector<std::string> words;
  if (worked > behind.unfilmed) words.push_back("filmed " + length_words(worked - behind.unfilmed));
  if (behind.stills > 0) words.push_back(count_words(static_cast<std::size_t>(behind.stills), "still", "stills"));
  if (behind.photos > 0) words.push_back(count_words(static_cast<std::size_t>(behind.photos), "photo", "photos"));
  if (behind.fasteners > 0) words.push_back(std::to_string(behind.fasteners) + " fasteners standing");
  return words.empty() ? "none" : listed(words);
}

Row row_of(const BookGround& ground, const journal::ChecklistLine& line, const Behind& behind) {
  std::string what = one_line(clean(line.title));
  for (const std::string& task : behind.tasks) what += "\n– " + task;
  Row row{one_line(clean(line.number)), what};
  for (const int tenths : line.tenths) row.push_back(line.applicable ? std::to_string(tenths) : "");
  row.insert(row.end(), {line.applicable ? hours_words_of(ground, behind) : "does not apply", sessions_words(behind),
                         evidence_words(behind)});
  return row;
}

Table table_of(const BookGround& ground, const journal::Checklist& list, const ByLine& lines) {
  Table table{"",
              {{"No.", Align::times}, {"Line, and the tasks under it", Align::wide_words}},
              {},
              {},
              "The list has no lines."};
  for (const char* title : {"maker", "paid help", "builder, assembly", "builder, fabrication"}) {
    table.columns.push_back({title, Align::numbers});
  }
  table.columns.insert(table.columns.end(),
                       {{"Hours", Align::times}, {"Sessions", Align::times}, {"Evidence", Align::words}});
  handbook::ChecklistSum sum;
  std::string section;
  for (const journal::ChecklistLine& line : list.lines) {
    if (line.section != section) {
      section = line.section;
      table.rows.push_back({"", one_line(clean(section))});
    }
    const auto behind = lines.find(line.id);
    table.rows.push_back(row_of(ground, line, behind == lines.end() ? Behind{} : behind->second));
    for (std::size_t i = 0; i < sum.columns.size(); ++i) sum.columns[i] += line.applicable ? line.tenths[i] : 0;
  }
  Row total{"", "Tenths together"};
  for (const int tenths : sum.columns) total.push_back(std::to_string(tenths));
  table.totals.push_back(std::move(total));
  return table;
}

}  // namespace

Blocks checklists_part(const BookGround& ground) {
  Blocks blocks;
  if (ground.book.known.checklists.empty()) return blocks;
  ByLine lines;
  for (const BookSession& session : ground.book.sessions) {
    add_hours(ground, session, lines);
    add_evidence(ground, session, lines);
  }
  blocks.push_back(Heading{1, "Checklists", "checklists"});
  if (!ground.book.regime.empty())
    blocks.push_back(Paragraph{"Shown under: " + one_line(clean(ground.book.regime)) + "."});
  for (const journal::Checklist& list : ground.book.known.checklists) {
    blocks.push_back(Heading{2, one_line(clean(list.title.empty() ? list.name : list.title)),
                             "list-" + std::to_string(list.id.value)});
    if (!list.source.empty()) blocks.push_back(Paragraph{clean(list.source), Voice::small});
    for (const BookChecklist& said : ground.book.checklists) {
      if (said.id != list.id) continue;
      for (const std::string& sentence : said.sentences) blocks.push_back(Paragraph{clean(sentence), Voice::caution});
    }
    blocks.push_back(table_of(ground, list, lines));
  }
  blocks.push_back(Paragraph{
      "Tenths are the builder's own entries. Hours, sessions and evidence are what the journal holds for the tasks "
      "under a line, from the first session to the book's last day; they decide no tenth. Findings are the "
      "authority's.",
      Voice::caution});
  return blocks;
}

}  // namespace jigtime::report
