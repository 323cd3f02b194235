#include "actions/tagging.h"

#include <algorithm>

#include "actions/fastener_words.h"
#include "actions/shop.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

/// Turns words into ids, adding what is new, inside one edit.
class Clerk {
 public:
  Clerk(store::Edit& edit, journal::Register known) : edit_{edit}, known_{std::move(known)} {}

  Result<journal::SpanId> add(journal::SessionId session, const SpanWords& words) {
    journal::Span span;
    span.session = session;
    span.kind = words.pause ? journal::SpanKind::pause : journal::SpanKind::work;
    span.begin = words.from;
    span.end = words.to;
    span.note = words.note;
    if (!trimmed(words.task).empty()) {
      const auto task = task_of(words);
      if (!task) return task.error();
      span.task = *task;
    }
    for (const std::string& name : words.people) {
      const auto person = person_of(std::string{trimmed(name)});
      if (!person) return person.error();
      span.people.push_back(*person);
    }
    for (const std::string& text : words.fasteners) {
      auto line = parse_fastener(text);
      if (!line) return line.error();
      span.fasteners.push_back(std::move(*line));
    }
    return edit_.add(span);
  }

  std::vector<std::string> take_created() { return std::move(created_); }

 private:
  Result<journal::TaskId> task_of(const SpanWords& words) {
    const std::string title{trimmed(words.task)};
    const auto assembly = assembly_at(edit_, known_, words.assembly);
    if (!assembly) return assembly.error();
    if (const journal::Task* found = known_.task(title)) {
      const journal::TaskId id = found->id;
      if (*assembly && !found->assembly) {
        journal::Task task = *found;
        task.assembly = *assembly;
        if (const Done updated = edit_.update(task); !updated) return updated.error();
        for (journal::Task& kept : known_.tasks) {
          if (kept.id == id) kept = task;
        }
      }
      return id;
    }
    journal::Task task{{}, title, *assembly, {}, {}};
    const auto added = edit_.add(task);
    if (!added) return added;
    task.id = *added;
    known_.tasks.push_back(task);
    created_.push_back("New task \"" + title + "\".");
    return added;
  }

  Result<journal::PersonId> person_of(const std::string& name) {
    if (const journal::Person* found = known_.person(name)) return found->id;
    journal::Person person{{}, name, journal::Role::builder};
    const auto added = edit_.add(person);
    if (!added) return added;
    person.id = *added;
    known_.people.push_back(person);
    created_.push_back("New person \"" + name + "\", as a builder.");
    return added;
  }

  store::Edit& edit_;
  journal::Register known_;
  std::vector<std::string> created_;
};

}  // namespace

Result<Tagged> add_spans(store::Store& store, journal::SessionId session, const std::vector<SpanWords>& spans) {
  const auto known = store.known();
  if (!known) return known.error();
  Tagged tagged;
  const Done done = store.edit(spans.size() == 1 ? "tag a span" : "tag spans", [&](store::Edit& edit) -> Done {
    Clerk clerk{edit, *known};
    std::vector<std::string> faults;
    for (const SpanWords& words : spans) {
      const auto added = clerk.add(session, words);
      if (added) {
        tagged.spans.push_back(*added);
      } else if (words.line == 0 || added.error().code() != Code::invalid) {
        return added.error();
      } else {
        faults.push_back("line " + std::to_string(words.line) + ": " + added.error().message());
      }
    }
    if (!faults.empty()) return all_of(faults);
    tagged.created = clerk.take_created();
    return {};
  });
  if (!done) return done.error();
  return tagged;
}

Error all_of(const std::vector<std::string>& faults) {
  constexpr std::size_t most = 20;
  std::string message;
  for (std::size_t i = 0; i < std::min(faults.size(), most); ++i) message += faults[i] + "\n";
  if (faults.size() > most) message += "and " + std::to_string(faults.size() - most) + " more\n";
  return {Code::invalid, message + "Nothing was tagged."};
}

Result<journal::MarkId> add_mark(store::Store& store, journal::SessionId session, SessionTime at,
                                 const std::string& note) {
  std::optional<journal::MarkId> made;
  const Done done = store.edit("set a mark", [&](store::Edit& edit) -> Done {
    const auto added = edit.add(journal::Mark{{}, session, at, note});
    if (!added) return added.error();
    made = *added;
    return {};
  });
  if (!done) return done.error();
  return *made;
}

}  // namespace jigtime::actions
