#include "actions/settings.h"

#include "actions/zone.h"
#include "base/text.h"

namespace jigtime::actions {
namespace {

Result<journal::Rounding> rounding_of(const std::string& words) {
  for (const auto rounding : {journal::Rounding::none, journal::Rounding::minute, journal::Rounding::tenth_hour,
                              journal::Rounding::quarter_hour}) {
    if (words == to_text(rounding)) return rounding;
  }
  return Error{Code::invalid,
               "\"" + to_utf8(words) + "\" is no rounding. There are none, minute, \"0.1 h\" and \"0.25 h\"."};
}

/// A camera's clock that was right by the old beginning is off by as much as the new one differs.
Done count_clocks_from(store::Edit& edit, const journal::SessionRecord& record, const journal::Session& session) {
  if (!record.session.zero || !session.zero || record.session.zero == session.zero) return {};
  for (journal::CameraClock clock : record.clocks) {
    if (!clock.known) continue;
    clock.offset += *record.session.zero - *session.zero;
    if (Done kept = edit.set_clock(clock); !kept) return kept;
  }
  return {};
}

}  // namespace

Result<journal::Build> change_build(store::Store& store, const BuildChange& change) {
  auto build = store.build();
  if (!build) return build.error();
  const journal::Build before = *build;
  if (change.name) build->name = *change.name;
  if (change.registration) build->registration = *change.registration;
  if (change.place) build->place = *change.place;
  if (change.zone) {
    if (const auto zone = Zone::find(*change.zone); !zone) return zone.error();
    build->zone = *change.zone;
  }
  if (change.rounding) {
    const auto rounding = rounding_of(*change.rounding);
    if (!rounding) return rounding.error();
    build->rounding = *rounding;
  }
  if (*build == before) return *build;
  const Done done = store.edit("change the build", [&](store::Edit& edit) { return edit.set_build(*build); });
  if (!done) return done.error();
  return *build;
}

Result<journal::Session> change_session(store::Store& store, journal::SessionId id, const SessionChange& change) {
  const auto record = store.record(id);
  if (!record) return record.error();
  journal::Session session = record->session;
  if (change.note) session.note = *change.note;
  if (change.place) session.place = *change.place;
  if (change.began && change.began_by_clocks) {
    return Error{Code::invalid, "Either you say when the session began, or the cameras' clocks do. Leave one out."};
  }
  if (change.began_by_clocks) session.zero_fixed = false;
  if (change.began) {
    if (*change.began < Length{0} || *change.began >= std::chrono::hours{24}) {
      return Error{Code::invalid, "A day has 24 hours: the session begins from 0:00:00 to 23:59:59."};
    }
    const auto build = store.build();
    if (!build) return build.error();
    const auto zone = Zone::find(build->zone);
    if (!zone) return zone.error();
    const Length local = Length{std::chrono::sys_days{session.date}.time_since_epoch()} + *change.began;
    if (zone->skips(local)) {
      return Error{Code::invalid, "On " + to_text(session.date) + " the clocks in " + build->zone +
                                      " are set forward and never show " + to_short_clock_text(*change.began) +
                                      ". Say a time before or after the hour that is left out."};
    }
    session.zero = zone->to_wall(local);
    session.zero_fixed = true;
  }
  if (session == record->session) return session;
  const Done done = store.edit("change a session", [&](store::Edit& edit) -> Done {
    if (Done updated = edit.update(session); !updated) return updated;
    return count_clocks_from(edit, *record, session);
  });
  if (!done) return done.error();
  return session;
}

}  // namespace jigtime::actions
