// People, assemblies and tasks under another name, as one, or put away; and sessions without footage.
#pragma once

#include <chrono>
#include <string>

#include "actions/tagging.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

enum class Shelved { person, assembly, task };

/// Each names what there is by its name, title or path. not_found lists nothing but says where to look. Sealed entries
/// keep the words they were sealed with; verify() tells a rename from a change.
Done rename(store::Store& store, Shelved what, const std::string& name, const std::string& to);
/// `name` was `into` all along. What is not sealed names `into` from now on.
Done merge(store::Store& store, Shelved what, const std::string& name, const std::string& into);
enum class Place { shelf, desk };
/// No longer offered where one chooses, or offered again. Nothing else changes.
Done put(store::Store& store, Shelved what, const std::string& name, Place place);

/// Hours that are not sealed count under the new role at once, sealed entries keep the old one.
Done change_role(store::Store& store, const std::string& name, journal::Role role);
/// The sheet of the plans that shows the assembly; empty takes it away.
Done set_sheet(store::Store& store, const std::string& path, const std::string& sheet);

/// A session without footage. `zero` is nothing unless the builder says when its clock begins. invalid when there is
/// one on that day.
Result<journal::SessionId> add_session(store::Store& store, const journal::Session& session);

/// Work that no camera saw: a span of that length behind everything the session holds (or from words.from on, when
/// `from` is given). The session is added when there is none on that day. words.off_camera is set.
struct OffCamera {
  std::chrono::year_month_day day;
  Length length{0};
  std::optional<SessionTime> from;
  SpanWords words;
};
Result<Tagged> add_off_camera(store::Store& store, const OffCamera& work);

}  // namespace jigtime::actions
