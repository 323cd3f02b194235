#include "journal/restorer.h"

#include <charconv>

#include "base/text.h"
#include "journal/rule_text.h"
#include "journal/seal_lines.h"

namespace jigtime::journal {

Facts::Facts(std::string_view text) {
  for (const std::string& line : split(text, '\n')) {
    if (const std::size_t colon = line.find(": "); colon != std::string::npos) {
      values_.emplace(line.substr(0, colon), unescaped(std::string_view{line}.substr(colon + 2)));
    }
  }
}

std::string Facts::at(const std::string& key) const {
  const auto found = values_.find(key);
  return found == values_.end() ? std::string{} : found->second;
}

std::int64_t Facts::id_at(const std::string& key) const {
  const std::string text = at(key);
  std::int64_t id = 0;
  std::from_chars(text.data(), text.data() + text.size(), id);
  return id;
}

void Restorer::text(const std::string& key, const std::string& what, std::string& value) {
  // Compared as it looks once it was written and read back.
  if (!facts_.has(key) || facts_.at(key) == unescaped(escaped(value))) return;
  renamed_.push_back(what + " was sealed as " + in_quotes(facts_.at(key)) + " and is " + in_quotes(value) + " now.");
  value = facts_.at(key);
}

void Restorer::build(Build& build) {
  text("build", "The build's name", build.name);
  text("registration", "The registration", build.registration);
  text("place", "The build's place", build.place);
  text("zone", "The time zone", build.zone);
  text("regime", "The regime", build.regime);
  rounding(build);
}

void Restorer::rounding(Build& build) {
  for (const Rounding rounding : {Rounding::none, Rounding::minute, Rounding::tenth_hour, Rounding::quarter_hour}) {
    if (to_text(rounding) != facts_.at("rounding") || rounding == build.rounding) continue;
    renamed_.push_back("The rounding was sealed as " + facts_.at("rounding") + " and is " +
                       std::string{to_text(build.rounding)} + " now.");
    build.rounding = rounding;
    return;
  }
}

void Restorer::person(const std::string& key, Person& person) {
  text(key + "name", "The person", person.name);
  const auto role = parse_role(facts_.at(key + "role"));
  if (!role || *role == person.role) return;
  renamed_.push_back("The role of " + person.name + " was sealed as " + facts_.at(key + "role") + " and is " +
                     std::string{to_text(person.role)} + " now.");
  person.role = *role;
}

void Restorer::camera(const std::string& key, Camera& camera) { text(key + "name", "The camera", camera.name); }

void Restorer::task(const std::string& key, Task& task, Register& known) {
  text(key + "title", "The task", task.title);
  text(key + "plan sheet", "The plan sheet of the task " + in_quotes(task.title), task.plan_sheet);
  text(key + "plan step", "The plan step of the task " + in_quotes(task.title), task.plan_step);
  assembly(key, task, known);
}

void Restorer::assembly(const std::string& key, Task& task, Register& known) {
  std::string path = known.assembly_path(task.assembly);
  if (path == facts_.at(key + "assembly")) return;
  text(key + "assembly", "The assembly of the task " + in_quotes(task.title), path);
  if (path.empty()) {
    task.assembly.reset();
    return;
  }
  const AssemblyId stand_in{-1 - static_cast<std::int64_t>(known.assemblies.size())};
  known.assemblies.push_back({stand_in, std::nullopt, path});
  task.assembly = stand_in;
}

}  // namespace jigtime::journal
