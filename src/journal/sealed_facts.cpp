#include "journal/sealed_facts.h"

#include <algorithm>

#include "base/text.h"
#include "journal/first_form.h"
#include "journal/rule_text.h"

namespace jigtime::journal {
namespace {

template <class Row, class RowId>
Row* row_with(std::vector<Row>& rows, RowId id) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.id == id; });
  return found == rows.end() ? nullptr : &*found;
}

/// Calls `restore` with the key of each numbered thing and the row it stands for.
template <class RowId, class Row, class Restore>
void each(const Facts& facts, const std::string& what, std::vector<Row>& rows, Restore restore) {
  for (int number = 1;; ++number) {
    const std::string key = what + " " + std::to_string(number);
    if (!facts.has(key + " id")) return;
    if (Row* row = row_with(rows, RowId{facts.id_at(key + " id")})) restore(key + " ", *row);
  }
}

Register sealed_register(const Facts& facts, Register known, Restorer& restorer) {
  each<PersonId>(facts, "person", known.people,
                 [&](const std::string& key, Person& person) { restorer.person(key, person); });
  each<CameraId>(facts, "camera", known.cameras,
                 [&](const std::string& key, Camera& camera) { restorer.camera(key, camera); });
  each<TaskId>(facts, "task", known.tasks,
               [&](const std::string& key, Task& task) { restorer.task(key, task, known); });
  return known;
}

/// Without what came after the seal, and with the file names of that day.
SessionRecord sealed_record(const Facts& facts, SessionRecord record) {
  record.entry.reset();
  std::sort(record.clips.begin(), record.clips.end(), [](const Clip& a, const Clip& b) { return a.id < b.id; });
  for (std::size_t i = 0; i < record.clips.size(); ++i) {
    Clip& clip = record.clips[i];
    const std::string key = "clip " + std::to_string(i + 1) + " ";
    if (!facts.has(key + "let go on")) clip.let_go.reset();
    for (std::size_t k = 0; k < clip.parts.size(); ++k) {
      const std::string name = facts.at(key + "part " + std::to_string(k + 1) + " name");
      if (!name.empty()) clip.parts[k].path.replace_filename(name);
    }
  }
  for (std::size_t i = 0; i < record.inspections.size(); ++i) {
    if (!facts.has("inspection " + std::to_string(i + 1) + " cleared on")) record.inspections[i].cleared_on.reset();
  }
  for (std::size_t i = 0; i < record.photos.size(); ++i) {
    const std::string name = facts.at("photo " + std::to_string(i + 1) + " name");
    if (!name.empty()) record.photos[i].path.replace_filename(name);
  }
  return record;
}

std::string line_or_end(const std::vector<std::string>& lines, std::size_t index) {
  return index < lines.size() && !lines[index].empty() ? in_quotes(lines[index]) : "nothing";
}

std::optional<std::string> first_difference(std::string_view sealed, std::string_view now) {
  if (sealed == now) return std::nullopt;
  const std::vector<std::string> before = split(sealed, '\n');
  const std::vector<std::string> after = split(now, '\n');
  std::size_t line = 0;
  while (line < before.size() && line < after.size() && before[line] == after[line]) ++line;
  return "was sealed with " + line_or_end(before, line) + " where the journal now holds " + line_or_end(after, line) +
         ".";
}

}  // namespace

Comparison compare(const Entry& entry, const Build& build, const Register& known, const SessionRecord& record) {
  Comparison comparison;
  const std::string_view sealed = record_text(entry);
  const TextForm form = form_of(sealed);
  const Facts facts{sealed};
  Restorer restorer{facts, comparison.renamed};
  Build settings = build;
  restorer.build(settings);
  std::string now;
  if (form == TextForm::first) {
    const SessionRecord then = first_form_record(facts, record);
    now = canonical_text(settings, first_form_register(facts, known, then, comparison.renamed), then, form);
  } else {
    const Register names = sealed_register(facts, known, restorer);
    now = canonical_text(settings, names, sealed_record(facts, record), form);
  }
  if (const auto difference = first_difference(sealed, now)) {
    comparison.fault =
        "Entry " + std::to_string(entry.number) + " (" + jigtime::to_text(record.session.date) + ") " + *difference;
  }
  return comparison;
}

}  // namespace jigtime::journal
