#include "actions/clerk.h"

#include "actions/fastener_words.h"
#include "actions/near_names.h"
#include "actions/shop.h"
#include "base/text.h"

namespace jigtime::actions {
Result<journal::Span> Clerk::span_of(journal::SessionId session, const SpanWords& words) {
  journal::Span span;
  span.session = session;
  span.kind = words.pause ? journal::SpanKind::pause : journal::SpanKind::work;
  span.begin = words.from;
  span.end = words.to;
  span.note = words.note;
  span.off_camera = words.off_camera;
  if (!trimmed(words.task).empty()) {
    const auto task = task_of(words.task, words.assembly);
    if (!task) return task.error();
    span.task = *task;
  }
  for (const std::string& name : words.people) {
    const auto person = person_of(name);
    if (!person) return person.error();
    span.people.push_back(*person);
  }
  for (const std::string& text : words.fasteners) {
    auto line = parse_fastener(text);
    if (!line) return line.error();
    span.fasteners.push_back(std::move(*line));
  }
  return span;
}

Result<journal::TaskId> Clerk::put_in_place(const journal::Task& found, std::optional<journal::AssemblyId> assembly) {
  journal::Task task = found;
  if (!assembly || task.assembly) return task.id;
  task.assembly = assembly;
  if (const Done updated = edit_.update(task); !updated) return updated.error();
  for (journal::Task& kept : known_.tasks) {
    if (kept.id == task.id) kept = task;
  }
  return task.id;
}

Result<journal::TaskId> Clerk::task_of(const std::string& words, const std::string& path) {
  const std::string title{trimmed(words)};
  const auto assembly = assembly_at(edit_, known_, path);
  if (!assembly) return assembly.error();
  if (const journal::Task* found = known_.task(title)) return put_in_place(*found, *assembly);
  journal::Task task{{}, title, *assembly, {}, {}};
  const auto added = edit_.add(task);
  if (!added) return added;
  task.id = *added;
  known_.tasks.push_back(task);
  created_.push_back("New task \"" + title + "\"." +
                     near_name_hint(known_.tasks, &journal::Task::title, title, "task"));
  return added;
}

Result<journal::PersonId> Clerk::person_of(const std::string& words) {
  const std::string name{trimmed(words)};
  if (const journal::Person* found = known_.person(name)) return found->id;
  journal::Person person{{}, name, journal::Role::builder};
  const auto added = edit_.add(person);
  if (!added) return added;
  person.id = *added;
  known_.people.push_back(person);
  created_.push_back("New person \"" + name + "\", as a builder." +
                     near_name_hint(known_.people, &journal::Person::name, name, "person"));
  return added;
}

}  // namespace jigtime::actions
