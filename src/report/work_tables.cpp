// The tables about work: spans, fasteners, hours.
#include <algorithm>
#include <map>
#include <set>

#include "base/text.h"
#include "report/rounding.h"
#include "report/span_words.h"
#include "report/tables.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::FastenerBalance;
using journal::Span;
using journal::TaskId;

constexpr std::string_view nothing = "–";

std::string task_title(const Timeline& timeline, std::optional<TaskId> id) {
  const journal::Task* task = id ? timeline.known.task(*id) : nullptr;
  return task == nullptr ? "Work without a task" : one_line(task->title);
}

std::string assembly_of(const Timeline& timeline, std::optional<TaskId> id) {
  const journal::Task* task = id ? timeline.known.task(*id) : nullptr;
  const std::string path = task == nullptr ? "" : one_line(timeline.known.assembly_path(task->assembly));
  return path.empty() ? std::string{nothing} : path;
}

std::string people_of(const Timeline& timeline, const Span& span) {
  std::string text;
  for (const journal::PersonId id : span.people) {
    const journal::Person* person = timeline.known.person(id);
    const std::string name = person == nullptr ? "somebody not in the register" : one_line(person->name);
    text += (text.empty() ? "" : "\n") + name;
    if (person != nullptr) text += " (" + std::string{to_text(person->role)} + ")";
  }
  if (!text.empty()) return text;
  return span.kind == journal::SpanKind::pause ? "everybody" : "nobody named";
}

std::string when_of(const Span& span) {
  const std::string text =
      to_short_clock_text(span.begin.time_since_epoch()) + " to " + to_short_clock_text(span.end.time_since_epoch());
  if (span.end <= span.begin) return text + "\n(ends before it begins: mend it)";
  return text + "\n(" + length_words(span.end - span.begin) + ")";
}

std::set<TaskId> tasks_of(const std::vector<Span>& spans) {
  std::set<TaskId> tasks;
  for (const Span& span : spans) {
    if (span.task) tasks.insert(*span.task);
  }
  return tasks;
}

using Key = std::pair<TaskId, std::string>;

std::map<Key, FastenerBalance> by_key(const std::vector<FastenerBalance>& rows) {
  std::map<Key, FastenerBalance> found;
  for (const FastenerBalance& row : rows) found.emplace(Key{row.task, row.callout}, row);
  return found;
}

/// What the whole build has of one call-out: planned, standing, and what follows; in words where only a session is
/// known.
Row against_plan(const Timeline& timeline, const FastenerBalance& here, const std::map<Key, FastenerBalance>& build) {
  if (timeline.build_balance.empty()) {
    if (here.planned == 0) return {std::string{nothing}, std::string{nothing}, "not planned"};
    return {std::to_string(here.planned), std::string{nothing}, "only the whole journal tells"};
  }
  const auto at = build.find({here.task, here.callout});
  const FastenerBalance all = at == build.end() ? here : at->second;
  const std::string standing = std::to_string(all.set - all.drilled);
  if (all.planned == 0) return {std::string{nothing}, standing, "not planned"};
  std::string verdict = "as planned";
  if (all.left() > 0) verdict = std::to_string(all.left()) + " left";
  if (all.over() > 0) verdict = std::to_string(all.over()) + " over";
  return {std::to_string(all.planned), standing, verdict};
}

Table empty_hours_table(journal::Rounding rounding) {
  return {"Person-hours, rounded " + std::string{rounding_words(rounding)} + " so that the rows add up",
          {{"Task", Align::wide_words},
           {"Assembly"},
           {"Person"},
           {"Role"},
           {"Hours", Align::numbers},
           {"Of that unfilmed", Align::numbers}},
          {},
          {},
          "No span names a person at work, so there are no hours."};
}

}  // namespace

Table spans_table(const Timeline& timeline) {
  Table table{"Spans in order of time",
              {{"Span", Align::times},
               {"Session time", Align::times},
               {"What", Align::wide_words},
               {"Who"},
               {"Fasteners", Align::wide_words},
               {"Note", Align::wide_words}},
              {},
              {},
              "No span has been tagged in this session."};
  int number = 0;
  for (const Span& span : timeline.record.spans) {
    table.rows.push_back({"S" + std::to_string(++number), when_of(span), span_what(timeline.known, span),
                          people_of(timeline, span), span_fasteners(span), to_utf8(span.note)});
  }
  return table;
}

Table fasteners_table(const Timeline& timeline) {
  Table table{"Fasteners by task and call-out",
              {{"Task", Align::wide_words},
               {"Call-out", Align::wide_words},
               {"Set in this session", Align::numbers},
               {"Drilled out again", Align::numbers},
               {"Planned", Align::numbers},
               {"Standing in the build", Align::numbers},
               {"Against the plan"}},
              {},
              {},
              "No fastener was set in this session and none is planned for its tasks."};
  const std::set<TaskId> tasks = tasks_of(timeline.record.spans);
  const std::map<Key, FastenerBalance> build = by_key(timeline.build_balance);
  for (const FastenerBalance& here : journal::balance(timeline.known, timeline.record.spans)) {
    if (!tasks.contains(here.task)) continue;
    Row row{task_title(timeline, here.task), one_line(here.callout), std::to_string(here.set),
            std::to_string(here.drilled)};
    for (std::string& cell : against_plan(timeline, here, build)) row.push_back(std::move(cell));
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table hours_table(const Timeline& timeline) {
  const journal::Rounding rounding = timeline.build.rounding;
  Table table = empty_hours_table(rounding);
  std::vector<Length> worked;
  for (const journal::HoursRow& row : timeline.hours.rows) worked.push_back(row.worked);
  const std::vector<Length> shown = shown_lengths(worked, rounding);
  std::map<std::string, Length> by_role;
  Length all{0};
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const journal::HoursRow& row = timeline.hours.rows[i];
    const journal::Person* person = timeline.known.person(row.person);
    const std::string role = person == nullptr ? "unknown" : std::string{to_text(person->role)};
    const std::string name = person == nullptr ? "somebody not in the register" : one_line(person->name);
    by_role[role] += shown[i];
    all += shown[i];
    table.rows.push_back({task_title(timeline, row.task), assembly_of(timeline, row.task), name, role,
                          hours_words(shown[i], rounding),
                          row.unfilmed > Length{0} ? length_words(row.unfilmed) : std::string{nothing}});
  }
  for (const auto& [role, length] : by_role) {
    table.totals.push_back({"Sum", "", "", role, hours_words(length, rounding), ""});
  }
  table.totals.push_back({"Person-hours", "", "", "all roles", hours_words(all, rounding), ""});
  return table;
}

}  // namespace jigtime::report
