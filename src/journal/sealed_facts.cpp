#include "journal/sealed_facts.h"

#include <algorithm>
#include <charconv>
#include <map>

#include "base/text.h"
#include "journal/rule_text.h"
#include "journal/seal_lines.h"

namespace jigtime::journal {
namespace {

/// The values of a text by their keys.
class Facts {
 public:
  explicit Facts(std::string_view text) {
    for (const std::string& line : split(text, '\n')) {
      if (const std::size_t colon = line.find(": "); colon != std::string::npos) {
        values_.emplace(line.substr(0, colon), unescaped(std::string_view{line}.substr(colon + 2)));
      }
    }
  }
  bool has(const std::string& key) const { return values_.contains(key); }
  std::string at(const std::string& key) const {
    const auto found = values_.find(key);
    return found == values_.end() ? std::string{} : found->second;
  }
  std::int64_t id_at(const std::string& key) const {
    const std::string text = at(key);
    std::int64_t id = 0;
    std::from_chars(text.data(), text.data() + text.size(), id);
    return id;
  }

 private:
  std::map<std::string, std::string> values_;
};

/// Puts back, one by one, what was sealed in place of what holds now, and says where the two differ.
class Restorer {
 public:
  Restorer(const Facts& facts, std::vector<std::string>& renamed) : facts_{facts}, renamed_{renamed} {}

  void text(const std::string& key, const std::string& what, std::string& value) {
    if (!facts_.has(key) || facts_.at(key) == escaped_once(value)) return;
    renamed_.push_back(what + " was sealed as " + in_quotes(facts_.at(key)) + " and is " + in_quotes(value) + " now.");
    value = facts_.at(key);
  }

 private:
  /// What a value looks like once it was written and read back.
  static std::string escaped_once(const std::string& value) { return unescaped(escaped(value)); }

  const Facts& facts_;
  std::vector<std::string>& renamed_;
};

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

Build sealed_build(Build build, Restorer& restorer) {
  restorer.text("build", "The build's name", build.name);
  restorer.text("registration", "The registration", build.registration);
  restorer.text("place", "The build's place", build.place);
  restorer.text("zone", "The time zone", build.zone);
  restorer.text("regime", "The regime", build.regime);
  return build;
}

void restore_role(const Facts& facts, const std::string& key, Person& person, std::vector<std::string>& renamed) {
  const auto role = parse_role(facts.at(key + "role"));
  if (!role || *role == person.role) return;
  renamed.push_back("The role of " + person.name + " was sealed as " + facts.at(key + "role") + " and is " +
                    std::string{to_text(person.role)} + " now.");
  person.role = *role;
}

void restore_rounding(const Facts& facts, Build& build, std::vector<std::string>& renamed) {
  for (const Rounding rounding : {Rounding::none, Rounding::minute, Rounding::tenth_hour, Rounding::quarter_hour}) {
    if (to_text(rounding) != facts.at("rounding") || rounding == build.rounding) continue;
    renamed.push_back("The rounding was sealed as " + facts.at("rounding") + " and is " +
                      std::string{to_text(build.rounding)} + " now.");
    build.rounding = rounding;
    return;
  }
}

/// An assembly's path is sealed as text: one assembly with the whole path as its name stands for it.
void restore_assembly(const Facts& facts, const std::string& key, Task& task, Register& known, Restorer& restorer) {
  std::string path = known.assembly_path(task.assembly);
  if (path == facts.at(key + "assembly")) return;
  restorer.text(key + "assembly", "The assembly of the task " + in_quotes(task.title), path);
  if (path.empty()) {
    task.assembly.reset();
    return;
  }
  const AssemblyId stand_in{-1 - static_cast<std::int64_t>(known.assemblies.size())};
  known.assemblies.push_back({stand_in, std::nullopt, path});
  task.assembly = stand_in;
}

Register sealed_register(const Facts& facts, Register known, Restorer& restorer, std::vector<std::string>& renamed) {
  each<PersonId>(facts, "person", known.people, [&](const std::string& key, Person& person) {
    restorer.text(key + "name", "The person", person.name);
    restore_role(facts, key, person, renamed);
  });
  each<CameraId>(facts, "camera", known.cameras, [&](const std::string& key, Camera& camera) {
    restorer.text(key + "name", "The camera", camera.name);
  });
  each<TaskId>(facts, "task", known.tasks, [&](const std::string& key, Task& task) {
    restorer.text(key + "title", "The task", task.title);
    restorer.text(key + "plan sheet", "The plan sheet of the task " + in_quotes(task.title), task.plan_sheet);
    restorer.text(key + "plan step", "The plan step of the task " + in_quotes(task.title), task.plan_step);
    restore_assembly(facts, key, task, known, restorer);
  });
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
  std::string now;
  if (form == TextForm::first) {
    now = canonical_text(build, known, record, form);
  } else {
    const Facts facts{sealed};
    Restorer restorer{facts, comparison.renamed};
    Build sealed_settings = sealed_build(build, restorer);
    restore_rounding(facts, sealed_settings, comparison.renamed);
    const Register names = sealed_register(facts, known, restorer, comparison.renamed);
    now = canonical_text(sealed_settings, names, sealed_record(facts, record), form);
  }
  if (const auto difference = first_difference(sealed, now)) {
    comparison.fault =
        "Entry " + std::to_string(entry.number) + " (" + jigtime::to_text(record.session.date) + ") " + *difference;
  }
  return comparison;
}

}  // namespace jigtime::journal
