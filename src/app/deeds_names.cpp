// Edits of the register: names, roles, and what the drawing asks for. Each is one function of actions.
#include "actions/shop.h"
#include "app/deeds.h"

namespace jigtime::app {
namespace {

Done keep_task(store::Store& store, const std::string& title, std::vector<std::string> planned) {
  actions::TaskWords words;
  words.title = title;
  words.planned = std::move(planned);
  return actions::add_task(store, words);
}

}  // namespace

void add_named(Model& model, actions::Shelved what, std::string name) {
  if (!model.desk) return;
  model.desk->do_it([what, name = std::move(name)](store::Store& store) -> Result<std::string> {
    Done done;
    switch (what) {
      case actions::Shelved::person: done = actions::add_person(store, name, journal::Role::builder); break;
      case actions::Shelved::task: done = keep_task(store, name, {}); break;
      case actions::Shelved::assembly:
        if (const auto added = actions::add_assembly(store, name); !added) done = added.error();
        break;
    }
    if (!done) return done.error();
    return say(Word::name_added, {name});
  });
}

void rename_named(Model& model, actions::Shelved what, std::string name, std::string to) {
  if (!model.desk) return;
  model.desk->do_it([what, name = std::move(name), to = std::move(to)](store::Store& store) -> Result<std::string> {
    if (const Done done = actions::rename(store, what, name, to); !done) return done.error();
    return say(Word::name_changed, {name, to});
  });
}

void merge_named(Model& model, actions::Shelved what, std::string name, std::string into) {
  if (!model.desk) return;
  model.desk->do_it([what, name = std::move(name), into = std::move(into)](store::Store& store) -> Result<std::string> {
    if (const Done done = actions::merge(store, what, name, into); !done) return done.error();
    return say(Word::name_merged, {name, into});
  });
}

void put_named(Model& model, actions::Shelved what, std::string name, actions::Place place) {
  if (!model.desk) return;
  model.desk->do_it([what, name = std::move(name), place](store::Store& store) -> Result<std::string> {
    if (const Done done = actions::put(store, what, name, place); !done) return done.error();
    return say(place == actions::Place::shelf ? Word::name_away : Word::name_back, {name});
  });
}

void change_role(Model& model, std::string name, journal::Role role) {
  if (!model.desk) return;
  model.desk->do_it([name = std::move(name), role](store::Store& store) -> Result<std::string> {
    if (const Done done = actions::change_role(store, name, role); !done) return done.error();
    return say(Word::role_changed, {name, std::string{to_text(role)}});
  });
}

void plan_fasteners(Model& model, std::string task, std::string planned) {
  if (!model.desk) return;
  const bool fresh = model.snapshot->known.task(std::string_view{task}) == nullptr;
  model.desk->do_it(
      [task = std::move(task), planned = std::move(planned), fresh](store::Store& store) -> Result<std::string> {
        if (const Done done = keep_task(store, task, {planned}); !done) return done.error();
        return say(fresh ? Word::planned_new_task : Word::planned_for, {task, planned});
      });
}

}  // namespace jigtime::app
