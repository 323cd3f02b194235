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

void write_head(Lines& lines, const Build& build, const Session& session, const Names& names) {
  lines.add("build", build.name);
  lines.add("registration", build.registration);
  lines.add("place", build.place);
  lines.add("zone", build.zone);
  lines.add("rounding", to_text(build.rounding));
  lines.add("session", jigtime::to_text(session.date));
  lines.add("session zero", session.zero ? exact_text(*session.zero) : "unknown");
  lines.add("session reference", names.camera(session.reference));
  lines.add("session note", session.note);
}

void write_people(Lines& lines, const SessionRecord& record, const Register& known) {
  std::set<PersonId> named;
  for (const Span& span : record.spans) named.insert(span.people.begin(), span.people.end());
  int number = 0;
  for (const Person& person : known.people) {
    if (!named.contains(person.id)) continue;
    const Numbered at{"person", ++number};
    lines.add(at, "name", person.name);
    lines.add(at, "role", to_text(person.role));
  }
}

void write_tasks(Lines& lines, const SessionRecord& record, const Register& known) {
  std::set<TaskId> named;
  for (const Span& span : record.spans) {
    if (span.task) named.insert(*span.task);
  }
  int number = 0;
  for (const Task& task : known.tasks) {
    if (!named.contains(task.id)) continue;
    const Numbered at{"task", ++number};
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

void write_span(Lines& lines, const Numbered& at, const Span& span, const Names& names) {
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
}

void write_part(Lines& lines, const Numbered& at, const Part& part) {
  lines.add(at, "name", part.path.filename().string());
  lines.add(at, "size", std::to_string(part.identity.size_bytes));
  lines.add(at, "digest", part.identity.hex());
  lines.add(at, "clip from", exact_text(part.clip_from.time_since_epoch()));
  lines.add(at, "length", exact_text(part.length));
  int number = 0;
  for (const ClockReading& clock : part.clocks) {
    const Numbered inner = at.inside("clock", ++number);
    lines.add(inner, "source", jigtime::to_text(clock.source));
    lines.add(inner, "kind", kind_text(clock.kind));
    lines.add(inner, "edge", clock.edge == ClockEdge::begin ? "begin" : "end");
    lines.add(inner, "since epoch ns", clock.since_epoch.count());
    lines.add(inner, "resolution ns", clock.resolution.count());
    lines.add(inner, "text", clock.text);
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

void write_footage(Lines& lines, const SessionRecord& record, const Names& names) {
  int number = 0;
  for (const Clip& clip : record.clips) write_clip(lines, Numbered{"clip", ++number}, clip, record, names);
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
}

}  // namespace

std::string canonical_text(const Build& build, const Register& known, const SessionRecord& record) {
  const Names names{known};
  Lines lines;
  write_head(lines, build, record.session, names);
  write_people(lines, record, known);
  write_tasks(lines, record, known);
  write_hours(lines, record, names);
  int number = 0;
  for (const Span& span : record.spans) write_span(lines, Numbered{"span", ++number}, span, names);
  number = 0;
  for (const Mark& mark : record.marks) {
    const Numbered at{"mark", ++number};
    lines.add(at, "at", exact_text(mark.at));
    lines.add(at, "note", mark.note);
  }
  write_footage(lines, record, names);
  return lines.text();
}

}  // namespace jigtime::journal
