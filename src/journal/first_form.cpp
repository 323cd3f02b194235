#include "journal/first_form.h"

#include <algorithm>
#include <map>
#include <optional>

#include "journal/rule_text.h"
#include "journal/seal_lines.h"

namespace jigtime::journal {
namespace {

std::string numbered(const std::string& what, std::size_t index) {
  return Numbered{what, static_cast<int>(index) + 1}.key();
}

/// What the text calls the rows that the record has in the same places.
template <class RowId>
class Sightings {
 public:
  explicit Sightings(const Facts& facts) : facts_{facts} {}

  void at(const std::string& key, RowId row) {
    if (!facts_.has(key)) return;
    const auto [seen, first] = names_.try_emplace(row, facts_.at(key));
    if (!first && seen->second != facts_.at(key)) seen->second.reset();
  }
  /// Nothing where the row was not seen, or under several names.
  std::optional<std::string> name_of(RowId row) const {
    const auto seen = names_.find(row);
    return seen == names_.end() ? std::nullopt : seen->second;
  }

 private:
  const Facts& facts_;
  std::map<RowId, std::optional<std::string>> names_;
};

/// Gives rows back the names they were seen under.
template <class Row, class RowId>
void rename_back(std::vector<Row>& rows, std::string Row::*name, const Sightings<RowId>& seen, const std::string& what,
                 std::vector<std::string>& renamed) {
  const std::vector<Row> today = rows;
  for (Row& row : rows) {
    const auto sealed = seen.name_of(row.id);
    if (!sealed || *sealed == unescaped(escaped(row.*name))) continue;
    const bool borne = std::any_of(today.begin(), today.end(),
                                   [&](const Row& other) { return other.id != row.id && other.*name == *sealed; });
    if (borne) continue;
    renamed.push_back(what + " was sealed as " + in_quotes(*sealed) + " and is " + in_quotes(row.*name) + " now.");
    row.*name = *sealed;
  }
}

/// Calls `restore` with the key of each numbered thing and the row that bears its name.
template <class Row, class Restore>
void each_named(const Facts& facts, const std::string& what, const std::string& label, std::vector<Row>& rows,
                std::string Row::*name, Restore restore) {
  for (std::size_t i = 0;; ++i) {
    const std::string key = numbered(what, i) + " ";
    if (!facts.has(key + label)) return;
    const std::string sealed = facts.at(key + label);
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.*name == sealed; });
    if (row != rows.end()) restore(key, *row);
  }
}

Sightings<CameraId> cameras_in(const Facts& facts, const SessionRecord& record) {
  Sightings<CameraId> cameras{facts};
  for (std::size_t i = 0; i < record.clips.size(); ++i) {
    cameras.at(numbered("clip", i) + " camera", record.clips[i].camera);
  }
  for (std::size_t i = 0; i < record.unreadable.size(); ++i) {
    cameras.at(numbered("unreadable", i) + " camera", record.unreadable[i].camera);
  }
  for (std::size_t i = 0; i < record.clocks.size(); ++i) {
    cameras.at(numbered("camera clock", i) + " camera", record.clocks[i].camera);
  }
  if (record.session.reference) cameras.at("session reference", *record.session.reference);
  return cameras;
}

}  // namespace

SessionRecord first_form_record(const Facts& facts, SessionRecord record) {
  record.entry.reset();
  for (std::size_t i = 0; i < record.clips.size(); ++i) {
    const std::string key = numbered("clip", i) + " ";
    const auto place = record.clips.begin() + static_cast<std::ptrdiff_t>(i);
    const std::string digest = facts.at(key + "part 1 digest");
    const auto clip = std::find_if(place, record.clips.end(), [&](const Clip& c) {
      return !c.parts.empty() && c.parts.front().identity.hex() == digest;
    });
    if (clip == record.clips.end()) continue;
    std::rotate(place, clip, clip + 1);
    for (std::size_t k = 0; k < place->parts.size(); ++k) {
      const std::string name = facts.at(key + numbered("part", k) + " name");
      if (!name.empty()) place->parts[k].path.replace_filename(name);
    }
  }
  return record;
}

Register first_form_register(const Facts& facts, Register known, const SessionRecord& record,
                             std::vector<std::string>& renamed) {
  Sightings<PersonId> people{facts};
  Sightings<TaskId> tasks{facts};
  for (std::size_t i = 0; i < record.spans.size(); ++i) {
    const Span& span = record.spans[i];
    const std::string key = numbered("span", i) + " ";
    if (span.task) tasks.at(key + "task", *span.task);
    for (std::size_t k = 0; k < span.people.size(); ++k) people.at(key + numbered("person", k), span.people[k]);
  }
  rename_back(known.people, &Person::name, people, "The person", renamed);
  rename_back(known.tasks, &Task::title, tasks, "The task", renamed);
  rename_back(known.cameras, &Camera::name, cameras_in(facts, record), "The camera", renamed);
  Restorer restorer{facts, renamed};
  each_named(facts, "person", "name", known.people, &Person::name,
             [&](const std::string& key, Person& person) { restorer.person(key, person); });
  each_named(facts, "task", "title", known.tasks, &Task::title,
             [&](const std::string& key, Task& task) { restorer.task(key, task, known); });
  return known;
}

}  // namespace jigtime::journal
