#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/words.h"

namespace jigtime::store {

using namespace journal;

Done Editor::need_session(SessionId session) {
  Query row{database_,
            "SELECT date, number FROM session LEFT JOIN entry ON entry.session = session.id WHERE session.id = ?1"};
  if (!row.with(session).next()) return Error{Code::not_found, "The session is not in the journal."};
  if (row.is_null(1)) return {};
  return Error{Code::conflict, "The session of " + row.text(0) + " is sealed as entry " +
                                   std::to_string(row.integer(1)) + " and cannot be changed any more."};
}

Done Editor::need_session_of(const char* sql, std::int64_t id, std::string_view what) {
  Query row{database_, sql};
  if (!row.with(id).next()) {
    return Error{Code::not_found,
                 "There is no such " + std::string{what} + " in the journal. It may have been removed."};
  }
  return need_session(row.id<SessionId>(0));
}

Done Editor::need_task(TaskId task) {
  if (Query{database_, "SELECT 1 FROM task WHERE id = ?1"}.with(task).next()) return {};
  return Error{Code::not_found, "The task is not in the journal. Add it first."};
}

Done Editor::need_camera(CameraId camera) {
  if (Query{database_, "SELECT 1 FROM camera WHERE id = ?1"}.with(camera).next()) return {};
  return Error{Code::not_found, "The camera is not in the journal. Add it first."};
}

Done Editor::need_assembly(std::optional<AssemblyId> assembly) {
  if (!assembly || Query{database_, "SELECT 1 FROM assembly WHERE id = ?1"}.with(*assembly).next()) return {};
  return Error{Code::not_found, "The assembly is not in the journal. Add it first."};
}

Done Editor::need_unused(const char* sql, std::string_view name, std::int64_t id, const std::string& taken) {
  if (!Query{database_, sql}.with(name, id).next()) return {};
  return Error{Code::invalid,
               taken + " \"" + std::string{name} + "\" is in the journal already. Use that one, or choose another."};
}

Done Editor::set_build(const Build& build) {
  if (Done rules = check(build); !rules) return rules;
  return attempt([&]() -> Done {
    Query{database_,
          "UPDATE build SET name = ?1, registration = ?2, place = ?3, zone = ?4, rounding = ?5, regime = ?6, "
          "regime_text = ?7"}
        .with(std::string_view{build.name}, std::string_view{build.registration}, std::string_view{build.place},
              std::string_view{build.zone}, word_for(rounding_words, build.rounding), std::string_view{build.regime},
              std::string_view{build.regime_text})
        .run();
    return {};
  });
}

Result<PersonId> Editor::add(const Person& person) {
  if (Done rules = check(person); !rules) return rules.error();
  return attempt([&]() -> Result<PersonId> {
    if (Done unused =
            need_unused("SELECT 1 FROM person WHERE name = ?1 AND id <> ?2", person.name, 0, "A person called");
        !unused) {
      return unused.error();
    }
    return PersonId{
        Query{database_, "INSERT INTO person (name, role, archived) VALUES (?1, ?2, ?3) RETURNING id"}
            .with(std::string_view{person.name}, word_for(role_words, person.role), person.shelf.archived ? 1 : 0)
            .run_for_id()};
  });
}

Done Editor::update(const Person& person) {
  if (Done rules = check(person); !rules) return rules;
  return attempt([&]() -> Done {
    if (!Query{database_, "SELECT 1 FROM person WHERE id = ?1"}.with(person.id).next()) {
      return Error{Code::not_found, "The person is not in the journal. Add the person first."};
    }
    if (Done unused = need_unused("SELECT 1 FROM person WHERE name = ?1 AND id <> ?2", person.name, person.id.value,
                                  "A person called");
        !unused) {
      return unused;
    }
    Query{database_, "UPDATE person SET name = ?2, role = ?3, archived = ?4 WHERE id = ?1"}
        .with(person.id, std::string_view{person.name}, word_for(role_words, person.role),
              person.shelf.archived ? 1 : 0)
        .run();
    return {};
  });
}

Done Editor::set_planned(const PlannedFastener& planned) {
  if (Done rules = check(planned); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done task = need_task(planned.task); !task) return task;
    const std::string_view callout = planned.callout;
    if (planned.count == 0) {
      Query{database_, "DELETE FROM planned WHERE task = ?1 AND callout = ?2"}.with(planned.task, callout).run();
      return {};
    }
    Query{database_,
          "INSERT INTO planned (task, callout, count, grip_uin) VALUES (?1, ?2, ?3, ?4) "
          "ON CONFLICT (task, callout) DO UPDATE SET count = excluded.count, grip_uin = excluded.grip_uin"}
        .with(planned.task, callout, planned.count, planned.grip_uin)
        .run();
    return {};
  });
}

Result<CameraId> Editor::add(const Camera& camera) {
  if (Done rules = check(camera); !rules) return rules.error();
  return attempt([&]() -> Result<CameraId> {
    if (Done unused =
            need_unused("SELECT 1 FROM camera WHERE name = ?1 AND id <> ?2", camera.name, 0, "A camera called");
        !unused) {
      return unused.error();
    }
    return CameraId{Query{database_, "INSERT INTO camera (name) VALUES (?1) RETURNING id"}
                        .with(std::string_view{camera.name})
                        .run_for_id()};
  });
}

Result<SessionId> Editor::add(const Session& session) {
  if (Done rules = check(session); !rules) return rules.error();
  return attempt([&]() -> Result<SessionId> {
    const std::string date = jigtime::to_text(session.date);
    if (session.reference) {
      if (Done camera = need_camera(*session.reference); !camera) return camera.error();
    }
    if (Done unused = need_unused("SELECT 1 FROM session WHERE date = ?1 AND id <> ?2", date, 0, "A session of");
        !unused) {
      return unused.error();
    }
    return SessionId{Query{database_,
                           "INSERT INTO session (date, zero_ns, reference, note, place, zero_fixed) "
                           "VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id"}
                         .with(std::string_view{date}, session.zero, session.reference, std::string_view{session.note},
                               std::string_view{session.place}, session.zero_fixed ? 1 : 0)
                         .run_for_id()};
  });
}

Done Editor::update(const Session& session) {
  if (Done rules = check(session); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done open = need_session(session.id); !open) return open;
    const std::string date = jigtime::to_text(session.date);
    if (session.reference) {
      if (Done camera = need_camera(*session.reference); !camera) return camera;
    }
    if (Done unused =
            need_unused("SELECT 1 FROM session WHERE date = ?1 AND id <> ?2", date, session.id.value, "A session of");
        !unused) {
      return unused;
    }
    Query{database_,
          "UPDATE session SET date = ?2, zero_ns = ?3, reference = ?4, note = ?5, place = ?6, zero_fixed = ?7 "
          "WHERE id = ?1"}
        .with(session.id, std::string_view{date}, session.zero, session.reference, std::string_view{session.note},
              std::string_view{session.place}, session.zero_fixed ? 1 : 0)
        .run();
    return {};
  });
}

}  // namespace jigtime::store
