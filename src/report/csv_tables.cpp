// Spans and fasteners as tables for other programs.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "report/clean.h"
#include "report/csv_rows.h"
#include "report/formats.h"

namespace jigtime::report {
namespace {

using journal::FastenerBalance;
using journal::Span;

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : "; ") + word;
  return text;
}

/// Several stand in one cell, parted by ";" (or "|", as the reader has it): a name that holds one is set in quotes.
std::string quoted_if_need_be(const std::string& name) {
  return name.find_first_of(";|") == std::string::npos && !name.starts_with('"') ? name : csv_quoted(name);
}

std::string people_of(const Timeline& timeline, const Span& span) {
  std::vector<std::string> names;
  for (const journal::PersonId id : span.people) {
    const journal::Person* person = timeline.known.person(id);
    names.push_back(person == nullptr ? "unknown" : quoted_if_need_be(clean(person->name)));
  }
  return joined(names);
}

std::string fasteners_of(const Span& span) {
  std::vector<std::string> lines;
  for (const journal::FastenerLine& line : span.fasteners) {
    std::string words = clean(line.callout) + "=" + std::to_string(line.set);
    if (line.drilled > 0) words += "-" + std::to_string(line.drilled);
    lines.push_back(words + ":" + std::string{to_text(line.method)});
  }
  return joined(lines);
}

const journal::Task* task_of(const Timeline& timeline, std::optional<journal::TaskId> id) {
  return id ? timeline.known.task(*id) : nullptr;
}

std::string title_of(const journal::Task* task) { return task == nullptr ? "" : clean(task->title); }

std::string assembly_of(const Timeline& timeline, const journal::Task* task) {
  return task == nullptr ? "" : clean(timeline.known.assembly_path(task->assembly));
}

std::set<journal::TaskId> tasks_of(const Timeline& timeline) {
  std::set<journal::TaskId> tasks;
  for (const Span& span : timeline.record.spans) {
    if (span.task) tasks.insert(timeline.known.meant(*span.task));
  }
  return tasks;
}

/// planned, standing, left, over: of the whole build, or empty.
std::vector<std::string> build_cells(const Timeline& timeline, const FastenerBalance& here) {
  for (const FastenerBalance& row : timeline.build_balance) {
    if (row.task != here.task || row.callout != here.callout) continue;
    return {std::to_string(row.planned), std::to_string(row.set - row.drilled), std::to_string(row.left()),
            std::to_string(row.over())};
  }
  return {"", "", "", ""};
}

}  // namespace

std::string spans_csv(const Timeline& timeline) {
  std::string text = csv_record({"from", "to", "kind", "task", "assembly", "people", "fasteners", "note"});
  for (const Span& span : timeline.record.spans) {
    const journal::Task* task = task_of(timeline, span.task);
    text +=
        csv_record({to_clock_text(span.begin), to_clock_text(span.end), std::string{to_text(span.kind)}, title_of(task),
                    assembly_of(timeline, task), people_of(timeline, span), fasteners_of(span), clean(span.note)});
  }
  return text;
}

std::string fasteners_csv(const Timeline& timeline) {
  std::string text = csv_record({"date", "task", "assembly", "callout", "set", "drilled", "driven", "squeezed",
                                 "pulled", "other", "planned", "standing", "left", "over"});
  const std::set<journal::TaskId> tasks = tasks_of(timeline);
  for (const FastenerBalance& here : journal::balance(timeline.known, timeline.record.spans)) {
    if (!tasks.contains(here.task)) continue;
    const journal::Task* task = timeline.known.task(here.task);
    std::vector<std::string> fields{to_text(timeline.record.session.date),
                                    title_of(task),
                                    assembly_of(timeline, task),
                                    clean(here.callout),
                                    std::to_string(here.set),
                                    std::to_string(here.drilled)};
    for (const int count : here.set_by) fields.push_back(std::to_string(count));
    for (std::string& cell : build_cells(timeline, here)) fields.push_back(std::move(cell));
    text += csv_record(fields);
  }
  return text;
}

}  // namespace jigtime::report
