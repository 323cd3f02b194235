#include "journal/seal.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "journal/seal_lines.h"

namespace jigtime::journal {
namespace {

/// The assemblies, tasks and people a session names, in the register's terms.
class Names {
 public:
  explicit Names(const Register& known) : known_{known} {}

  std::string person(PersonId id) const {
    const Person* person = known_.person(id);
    return person == nullptr ? "unknown" : person->name;
  }
  std::string task(std::optional<TaskId> id) const {
    const Task* task = id ? known_.task(*id) : nullptr;
    return task != nullptr ? task->title : id ? "unknown" : "";
  }
  std::string camera(std::optional<CameraId> id) const {
    const Camera* camera = id ? known_.camera(*id) : nullptr;
    return camera != nullptr ? camera->name : id ? "unknown" : "";
  }

 private:
  const Register& known_;
};

void write_head(Lines& lines, const Build& build, const Session& session, const Names& names, TextForm form) {
  if (form == TextForm::second) lines.add("form", "2");
  lines.add("build", build.name);
  lines.add("registration", build.registration);
  lines.add("place", build.place);
  lines.add("zone", build.zone);
  lines.add("rounding", to_text(build.rounding));
  if (form == TextForm::second) lines.add("regime", build.regime);
  lines.add("session", jigtime::to_text(session.date));
  lines.add("session zero",
            session.zero ? exact_text(*session.zero) + (session.zero_fixed ? " as the builder said" : "") : "unknown");
  lines.add("session reference", names.camera(session.reference));
  lines.add("session note", session.note);
  if (form == TextForm::second) lines.add("session place", session.place);
}

/// Second form only: what a rename is told from a change by.
void write_id(Lines& lines, const Numbered& at, std::int64_t id, TextForm form) {
  if (form == TextForm::second) lines.add(at, "id", id);
}

void write_people(Lines& lines, const SessionRecord& record, const Register& known, TextForm form) {
  std::set<PersonId> named;
  for (const Span& span : record.spans) named.insert(span.people.begin(), span.people.end());
  int number = 0;
  for (const Person& person : known.people) {
    if (!named.contains(person.id)) continue;
    const Numbered at{"person", ++number};
    write_id(lines, at, person.id.value, form);
    lines.add(at, "name", person.name);
    lines.add(at, "role", to_text(person.role));
  }
}

void write_cameras(Lines& lines, const SessionRecord& record, const Register& known) {
  std::set<CameraId> named;
  for (const Clip& clip : record.clips) named.insert(clip.camera);
  for (const Unreadable& file : record.unreadable) named.insert(file.camera);
  for (const CameraClock& clock : record.clocks) named.insert(clock.camera);
  for (const Still& still : record.stills) named.insert(still.camera);
  if (record.session.reference) named.insert(*record.session.reference);
  int number = 0;
  for (const Camera& camera : known.cameras) {
    if (!named.contains(camera.id)) continue;
    const Numbered at{"camera", ++number};
    lines.add(at, "id", camera.id.value);
    lines.add(at, "name", camera.name);
  }
}

void write_tasks(Lines& lines, const SessionRecord& record, const Register& known, TextForm form) {
  std::set<TaskId> named;
  for (const Span& span : record.spans) {
    if (span.task) named.insert(*span.task);
  }
  if (form == TextForm::second) {
    for (const OpenItem& item : record.items) {
      if (item.task) named.insert(*item.task);
    }
  }
  int number = 0;
  for (const Task& task : known.tasks) {
    if (!named.contains(task.id)) continue;
    const Numbered at{"task", ++number};
    write_id(lines, at, task.id.value, form);
    lines.add(at, "title", task.title);
    lines.add(at, "assembly", known.assembly_path(task.assembly));
    lines.add(at, "plan sheet", task.plan_sheet);
    lines.add(at, "plan step", task.plan_step);
  }
}

void write_hours(Lines& lines, const SessionRecord& record, const Names& names) {
  const Hours hours = count_hours(record);
  int number = 0;
  for (const HoursRow& row : hours.rows) {
    const Numbered at{"hours", ++number};
    lines.add(at, "task", names.task(row.task));
    lines.add(at, "person", names.person(row.person));
    lines.add(at, "worked", exact_text(row.worked));
    lines.add(at, "unfilmed", exact_text(row.unfilmed));
  }
  lines.add("hours person time", exact_text(hours.person_time));
  lines.add("hours elapsed", exact_text(hours.elapsed));
  lines.add("hours untagged", exact_text(hours.untagged));
  lines.add("hours unfilmed", exact_text(hours.unfilmed));
}

void write_span(Lines& lines, const Numbered& at, const Span& span, const Names& names, TextForm form) {
  lines.add(at, "kind", to_text(span.kind));
  lines.add(at, "begin", exact_text(span.begin));
  lines.add(at, "end", exact_text(span.end));
  lines.add(at, "task", names.task(span.task));
  int person = 0;
  for (const PersonId id : span.people) lines.add(at, Numbered{"person", ++person}.key(), names.person(id));
  int fastener = 0;
  for (const FastenerLine& line : span.fasteners) {
    const Numbered inner = at.inside("fastener", ++fastener);
    lines.add(inner, "call-out", line.callout);
    lines.add(inner, "method", to_text(line.method));
    lines.add(inner, "set", line.set);
    lines.add(inner, "drilled", line.drilled);
  }
  lines.add(at, "note", span.note);
  if (form == TextForm::second) lines.add(at, "camera", span.off_camera ? "off" : "on");
}

void write_clock(Lines& lines, const Numbered& at, const ClockReading& clock) {
  lines.add(at, "source", jigtime::to_text(clock.source));
  lines.add(at, "kind", kind_text(clock.kind));
  lines.add(at, "edge", clock.edge == ClockEdge::begin ? "begin" : "end");
  lines.add(at, "since epoch ns", clock.since_epoch.count());
  lines.add(at, "resolution ns", clock.resolution.count());
  lines.add(at, "text", clock.text);
}

void write_part(Lines& lines, const Numbered& at, const Part& part) {
  lines.add(at, "name", part.path.filename().string());
  lines.add(at, "size", std::to_string(part.identity.size_bytes));
  lines.add(at, "digest", part.identity.hex());
  lines.add(at, "clip from", exact_text(part.clip_from.time_since_epoch()));
  lines.add(at, "length", exact_text(part.length));
  int number = 0;
  for (const ClockReading& clock : part.clocks) {
    write_clock(lines, at.inside("clock", ++number), clock);
  }
}

void write_streams(Lines& lines, const Numbered& at, const Clip& clip) {
  if (clip.sound) {
    lines.add(at, "sound codec", clip.sound->codec);
    lines.add(at, "sound rate hz", clip.sound->sample_rate_hz);
    lines.add(at, "sound channels", clip.sound->channels);
  }
  if (clip.pictures) {
    lines.add(at, "picture codec", clip.pictures->codec);
    lines.add(at, "picture width", clip.pictures->width);
    lines.add(at, "picture height", clip.pictures->height);
    lines.add(at, "picture length ns", clip.pictures->picture_length.count());
  }
}

/// Where a clip stands in the record, from 1; 0 when it is not there.
int number_of(const SessionRecord& record, ClipId id) {
  const auto found =
      std::find_if(record.clips.begin(), record.clips.end(), [&](const Clip& clip) { return clip.id == id; });
  return found == record.clips.end() ? 0 : static_cast<int>(found - record.clips.begin()) + 1;
}

void write_placement(Lines& lines, const Numbered& at, const Placement& placement, const SessionRecord& record) {
  lines.add(at, "basis", to_text(placement.basis));
  if (placement.tied) lines.add(at, "by", "a tie");
  int number = 0;
  for (const Piece& piece : placement.pieces) {
    const Numbered inner = at.inside("piece", ++number);
    lines.add(inner, "clip from", exact_text(piece.clip_from.time_since_epoch()));
    lines.add(inner, "clip to", exact_text(piece.clip_to.time_since_epoch()));
    lines.add(inner, "session start", exact_text(piece.session_start));
    lines.add(inner, "rate ppb", piece.rate_ppb);
    lines.add(inner, "sigma ns", piece.sigma.count());
  }
  number = 0;
  for (const Evidence& evidence : placement.evidence) {
    const Numbered inner = at.inside("evidence", ++number);
    lines.add(inner, "with clip", number_of(record, evidence.with));
    lines.add(inner, "overlap", exact_text(evidence.overlap));
    lines.add(inner, "score milli", evidence.score_milli);
    lines.add(inner, "windows", evidence.windows);
    lines.add(inner, "agreed", evidence.agreed);
  }
  write_each(lines, at, "placement note", placement.notes);
}

void write_clip(Lines& lines, const Numbered& at, const Clip& clip, const SessionRecord& record, const Names& names) {
  lines.add(at, "camera", names.camera(clip.camera));
  lines.add(at, "length", exact_text(clip.length));
  write_streams(lines, at, clip);
  write_each(lines, at, "note", clip.notes);
  int number = 0;
  for (const Part& part : clip.parts) write_part(lines, at.inside("part", ++number), part);
  if (const Placement* placement = record.placement(clip.id)) write_placement(lines, at, *placement, record);
}

void write_let_go(Lines& lines, const Numbered& at, const Clip& clip) {
  if (!clip.let_go) return;
  lines.add(at, "let go on", jigtime::to_text(clip.let_go->on));
  lines.add(at, "let go because", clip.let_go->reason);
  if (!clip.let_go->kept_is) return;
  lines.add(at, "kept copy size", std::to_string(clip.let_go->kept_is->size_bytes));
  lines.add(at, "kept copy digest", clip.let_go->kept_is->hex());
}

void write_footage(Lines& lines, const SessionRecord& record, const Names& names, TextForm form) {
  int number = 0;
  for (const Clip& clip : record.clips) {
    const Numbered at{"clip", ++number};
    write_clip(lines, at, clip, record, names);
    if (form == TextForm::second) write_let_go(lines, at, clip);
  }
  number = 0;
  for (const Unreadable& file : record.unreadable) {
    const Numbered at{"unreadable", ++number};
    lines.add(at, "camera", names.camera(file.camera));
    lines.add(at, "name", file.path.filename().string());
    lines.add(at, "why", file.why);
  }
  number = 0;
  for (const CameraClock& clock : record.clocks) {
    const Numbered at{"camera clock", ++number};
    lines.add(at, "camera", names.camera(clock.camera));
    lines.add(at, "offset", exact_text(clock.offset));
    lines.add(at, "rate ppb", clock.rate_ppb);
    lines.add(at, "known", clock.known ? "yes" : "no");
  }
  number = 0;
  for (const Tie& tie : record.ties) {
    const Numbered at{"tie", ++number};
    lines.add(at, "clip", number_of(record, tie.clip_a));
    lines.add(at, "clip at", exact_text(tie.at_a.time_since_epoch()));
    lines.add(at, "with clip", number_of(record, tie.clip_b));
    lines.add(at, "with clip at", exact_text(tie.at_b.time_since_epoch()));
  }
}

/// Where a row stands among others of its session, from 1; 0 when it is not there.
template <class Row, class RowId>
int place_of(const std::vector<Row>& rows, std::optional<RowId> id) {
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return id && row.id == *id; });
  return found == rows.end() ? 0 : static_cast<int>(found - rows.begin()) + 1;
}

void write_moment(Lines& lines, const Numbered& at, std::optional<SessionTime> moment) {
  lines.add(at, "at", moment ? exact_text(*moment) : "unknown");
}

void write_items(Lines& lines, const SessionRecord& record, const Names& names) {
  int opened = 0;
  int closed = 0;
  for (const OpenItem& item : record.items) {
    if (item.session == record.session.id) {
      const Numbered at{"open item", ++opened};
      lines.add(at, "kind", to_text(item.kind));
      lines.add(at, "words", item.words);
      lines.add(at, "opened on", jigtime::to_text(item.opened_on));
      write_moment(lines, at, item.at);
      lines.add(at, "mark", place_of(record.marks, item.mark));
      lines.add(at, "task", names.task(item.task));
    }
    if (!item.closing || item.closing->session != record.session.id) continue;
    const Numbered at{"closed item", ++closed};
    lines.add(at, "kind", to_text(item.kind));
    lines.add(at, "words", item.words);
    lines.add(at, "opened on", jigtime::to_text(item.opened_on));
    lines.add(at, "closed on", jigtime::to_text(item.closing->on));
    lines.add(at, "span", place_of(record.spans, item.closing->span));
    lines.add(at, "closed with", item.closing->words);
  }
}

void write_inspections(Lines& lines, const SessionRecord& record) {
  int number = 0;
  for (const Inspection& inspection : record.inspections) {
    const Numbered at{"inspection", ++number};
    lines.add(at, "date", jigtime::to_text(inspection.date));
    lines.add(at, "person", inspection.person);
    lines.add(at, "licence", inspection.licence);
    lines.add(at, "looked at", inspection.looked_at);
    lines.add(at, "findings", inspection.findings);
    lines.add(at, "stage", inspection.stage);
    write_moment(lines, at, inspection.at);
    if (inspection.cleared_on) lines.add(at, "cleared on", jigtime::to_text(*inspection.cleared_on));
  }
}

void write_pictures(Lines& lines, const SessionRecord& record, const Names& names) {
  int number = 0;
  for (const Photo& photo : record.photos) {
    const Numbered at{"photo", ++number};
    lines.add(at, "name", photo.path.filename().string());
    lines.add(at, "size", std::to_string(photo.identity.size_bytes));
    lines.add(at, "digest", photo.identity.hex());
    lines.add(at, "camera", photo.camera);
    if (photo.taken) write_clock(lines, at.inside("clock", 1), *photo.taken);
    write_moment(lines, at, photo.at);
    lines.add(at, "sigma ns", photo.sigma.count());
    lines.add(at, "note", photo.note);
  }
  number = 0;
  for (const Still& still : record.stills) {
    const Numbered at{"still", ++number};
    write_moment(lines, at, still.at);
    lines.add(at, "camera", names.camera(still.camera));
    lines.add(at, "clip", place_of(record.clips, still.clip));
    lines.add(at, "clip at", exact_text(still.clip_at.time_since_epoch()));
    lines.add(at, "mark", place_of(record.marks, still.mark));
    lines.add(at, "digest", still.digest);
  }
}

/// Clips by id: files may be found again under other names, by which the record is ordered.
SessionRecord in_order(SessionRecord record) {
  std::sort(record.clips.begin(), record.clips.end(), [](const Clip& a, const Clip& b) { return a.id < b.id; });
  std::sort(record.unreadable.begin(), record.unreadable.end(), [](const Unreadable& a, const Unreadable& b) {
    return std::pair{a.camera, a.path} < std::pair{b.camera, b.path};
  });
  return record;
}

}  // namespace

TextForm form_of(std::string_view text) {
  return text.substr(0, text.find('\n')) == "form: 2" ? TextForm::second : TextForm::first;
}

std::string canonical_text(const Build& build, const Register& known, const SessionRecord& given, TextForm form) {
  const SessionRecord record = form == TextForm::second ? in_order(given) : given;
  const Names names{known};
  Lines lines;
  write_head(lines, build, record.session, names, form);
  write_people(lines, record, known, form);
  if (form == TextForm::second) write_cameras(lines, record, known);
  write_tasks(lines, record, known, form);
  write_hours(lines, record, names);
  int number = 0;
  for (const Span& span : record.spans) write_span(lines, Numbered{"span", ++number}, span, names, form);
  number = 0;
  for (const Mark& mark : record.marks) {
    const Numbered at{"mark", ++number};
    lines.add(at, "at", exact_text(mark.at));
    lines.add(at, "note", mark.note);
  }
  if (form == TextForm::second) {
    write_items(lines, record, names);
    write_inspections(lines, record);
    write_pictures(lines, record, names);
  }
  write_footage(lines, record, names, form);
  return lines.text();
}

}  // namespace jigtime::journal
