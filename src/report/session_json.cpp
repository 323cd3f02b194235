// The whole record of one session as one document; its shape is assets/session.schema.json.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "report/clean.h"
#include "report/formats.h"

namespace jigtime::report {
namespace {

using Json = nlohmann::ordered_json;
using journal::Register;
using journal::SessionRecord;

std::string base_name(const std::filesystem::path& path) { return clean(path.filename().string()); }

Json list_of(const std::vector<std::string>& words) {
  Json list = Json::array();
  for (const std::string& word : words) list.push_back(clean(word));
  return list;
}

template <class Rows, class Write>
Json each(const Rows& rows, Write write) {
  Json list = Json::array();
  for (const auto& row : rows) list.push_back(write(row));
  return list;
}

Json seconds_or_null(const std::optional<SessionTime>& time) { return time ? Json(to_seconds(*time)) : Json(nullptr); }

Json date_or_null(const std::optional<std::chrono::year_month_day>& date) {
  return date ? Json(to_text(*date)) : Json(nullptr);
}

std::string camera_name(const Register& known, journal::CameraId id) {
  const journal::Camera* camera = known.camera(id);
  return camera == nullptr ? "" : clean(camera->name);
}

Json task_name(const Register& known, std::optional<journal::TaskId> id) {
  const journal::Task* task = id ? known.task(*id) : nullptr;
  return task == nullptr ? Json(nullptr) : Json(clean(task->title));
}

std::string person_name(const Register& known, journal::PersonId id) {
  const journal::Person* person = known.person(id);
  return person == nullptr ? "" : clean(person->name);
}

Json build_json(const journal::Build& build) {
  return {{"name", clean(build.name)}, {"registration", clean(build.registration)}, {"place", clean(build.place)},
          {"zone", clean(build.zone)}, {"rounding", to_text(build.rounding)},       {"regime", clean(build.regime)}};
}

Json session_head(const Register& known, const journal::Session& session) {
  return {{"date", to_text(session.date)},
          {"zero", session.zero ? Json(to_text(*session.zero)) : Json(nullptr)},
          {"reference_camera", session.reference ? Json(camera_name(known, *session.reference)) : Json(nullptr)},
          {"place", clean(session.place)},
          {"note", clean(session.note)}};
}

Json people_json(const Register& known, const SessionRecord& record) {
  Json people = Json::array();
  for (const journal::Person& person : known.people) {
    const bool here = std::any_of(record.spans.begin(), record.spans.end(), [&](const journal::Span& span) {
      return std::find(span.people.begin(), span.people.end(), person.id) != span.people.end();
    });
    if (here) people.push_back({{"name", clean(person.name)}, {"role", to_text(person.role)}});
  }
  return people;
}

Json tasks_json(const Register& known, const SessionRecord& record) {
  Json tasks = Json::array();
  for (const journal::Task& task : known.tasks) {
    const bool here = std::any_of(record.spans.begin(), record.spans.end(),
                                  [&](const journal::Span& span) { return span.task == task.id; });
    if (!here) continue;
    tasks.push_back({{"title", clean(task.title)},
                     {"assembly", clean(known.assembly_path(task.assembly))},
                     {"plan_sheet", clean(task.plan_sheet)},
                     {"plan_step", clean(task.plan_step)}});
  }
  return tasks;
}

Json piece_json(const Piece& piece) {
  return {{"clip_from_s", to_seconds(piece.clip_from)},
          {"clip_to_s", to_seconds(piece.clip_to)},
          {"session_start_s", to_seconds(piece.session_start)},
          {"rate_ppm", static_cast<double>(piece.rate_ppb) / 1000},
          {"sigma_s", to_seconds(piece.sigma)}};
}

Json clip_json(const Register& known, const SessionRecord& record, const journal::Clip& clip) {
  const journal::Placement* placement = record.placement(clip.id);
  const auto part_json = [](const journal::Part& part) -> Json {
    return {{"file", base_name(part.path)},
            {"clip_from_s", to_seconds(part.clip_from)},
            {"duration_s", to_seconds(part.length)},
            {"size_bytes", part.identity.size_bytes},
            {"digest", part.identity.hex()}};
  };
  std::vector<std::string> notes = clip.notes;
  if (placement != nullptr) notes.insert(notes.end(), placement->notes.begin(), placement->notes.end());
  return {{"camera", camera_name(known, clip.camera)},
          {"parts", each(clip.parts, part_json)},
          {"duration_s", to_seconds(clip.length)},
          {"basis", placement == nullptr ? "none" : to_text(placement->basis)},
          {"pieces", placement == nullptr ? Json::array() : each(placement->pieces, piece_json)},
          {"let_go", clip.let_go ? Json(clean(clip.let_go->reason)) : Json(nullptr)},
          {"notes", list_of(notes)}};
}

Json span_json(const Register& known, const journal::Span& span) {
  const auto line_json = [](const journal::FastenerLine& line) -> Json {
    return {{"callout", clean(line.callout)},
            {"method", to_text(line.method)},
            {"set", line.set},
            {"drilled", line.drilled}};
  };
  const auto name = [&](journal::PersonId id) -> Json { return person_name(known, id); };
  return {{"kind", to_text(span.kind)},        {"begin_s", to_seconds(span.begin)},
          {"end_s", to_seconds(span.end)},     {"task", task_name(known, span.task)},
          {"people", each(span.people, name)}, {"fasteners", each(span.fasteners, line_json)},
          {"off_camera", span.off_camera},     {"note", clean(span.note)}};
}

Json hours_json(const Register& known, const journal::Hours& hours) {
  const auto row_json = [&](const journal::HoursRow& row) -> Json {
    const journal::Person* person = known.person(row.person);
    return {{"task", task_name(known, row.task)},
            {"person", person_name(known, row.person)},
            {"role", person == nullptr ? Json(nullptr) : Json(to_text(person->role))},
            {"seconds", to_seconds(row.worked)},
            {"unfilmed_seconds", to_seconds(row.unfilmed)}};
  };
  return {{"rows", each(hours.rows, row_json)},
          {"person_seconds", to_seconds(hours.person_time)},
          {"elapsed_seconds", to_seconds(hours.elapsed)},
          {"untagged_seconds", to_seconds(hours.untagged)},
          {"unfilmed_seconds", to_seconds(hours.unfilmed)}};
}

Json balance_json(const Timeline& timeline) {
  return each(timeline.build_balance, [&](const journal::FastenerBalance& row) -> Json {
    return {{"task", task_name(timeline.known, row.task)},
            {"callout", clean(row.callout)},
            {"planned", row.planned},
            {"set", row.set},
            {"drilled", row.drilled}};
  });
}

Json item_json(const Register& known, const journal::OpenItem& item) {
  return {{"kind", to_text(item.kind)},
          {"words", clean(item.words)},
          {"opened_on", to_text(item.opened_on)},
          {"at_s", seconds_or_null(item.at)},
          {"task", task_name(known, item.task)},
          {"closed_on", item.closing ? Json(to_text(item.closing->on)) : Json(nullptr)},
          {"closed_with", item.closing ? Json(clean(item.closing->words)) : Json(nullptr)}};
}

Json inspection_json(const journal::Inspection& inspection) {
  return {{"date", to_text(inspection.date)},       {"person", clean(inspection.person)},
          {"licence", clean(inspection.licence)},   {"looked_at", clean(inspection.looked_at)},
          {"findings", clean(inspection.findings)}, {"stage", clean(inspection.stage)},
          {"at_s", seconds_or_null(inspection.at)}, {"cleared_on", date_or_null(inspection.cleared_on)}};
}

Json photo_json(const journal::Photo& photo) {
  return {{"file", base_name(photo.path)},     {"size_bytes", photo.identity.size_bytes},
          {"digest", photo.identity.hex()},    {"camera", clean(photo.camera)},
          {"at_s", seconds_or_null(photo.at)}, {"sigma_s", to_seconds(photo.sigma)},
          {"note", clean(photo.note)}};
}

/// The text as it was sealed, byte for byte: the digest is over it.
Json entry_json(const journal::Entry& entry) {
  Json json{{"number", entry.number},
            {"sealed_at", to_text(entry.sealed_at)},
            {"text", entry.text},
            {"previous", entry.previous},
            {"digest", entry.digest}};
  if (entry.kind == journal::EntryKind::amendment) {
    json["reason"] = clean(entry.reason);
    json["before"] = clean(entry.before);
    json["after"] = clean(entry.after);
  }
  return json;
}

}  // namespace

std::string session_json(const Timeline& timeline) {
  const Register& known = timeline.known;
  const SessionRecord& record = timeline.record;
  const auto mark = [](const journal::Mark& row) -> Json {
    return {{"at_s", to_seconds(row.at)}, {"note", clean(row.note)}};
  };
  const auto still = [&](const journal::Still& row) -> Json {
    return {{"at_s", to_seconds(row.at)}, {"camera", camera_name(known, row.camera)}, {"digest", row.digest}};
  };
  const auto clock = [&](const journal::CameraClock& row) -> Json {
    return {{"name", camera_name(known, row.camera)},
            {"clock_offset_s", row.known ? Json(to_seconds(row.offset)) : Json(nullptr)},
            {"rate_ppm", static_cast<double>(row.rate_ppb) / 1000}};
  };
  const auto unreadable = [](const journal::Unreadable& row) -> Json {
    return {{"file", base_name(row.path)}, {"why", clean(row.why)}};
  };
  const Json document{
      {"format", "jigtime session"},
      {"version", 1},
      {"caution", "Records of the builder. They approve nothing: findings are the authority's."},
      {"build", build_json(timeline.build)},
      {"session", session_head(known, record.session)},
      {"people", people_json(known, record)},
      {"tasks", tasks_json(known, record)},
      {"cameras", each(record.clocks, clock)},
      {"clips", each(record.clips, [&](const journal::Clip& row) { return clip_json(known, record, row); })},
      {"unreadable", each(record.unreadable, unreadable)},
      {"spans", each(record.spans, [&](const journal::Span& row) { return span_json(known, row); })},
      {"marks", each(record.marks, mark)},
      {"stills", each(record.stills, still)},
      {"photos", each(record.photos, photo_json)},
      {"items", each(record.items, [&](const journal::OpenItem& row) { return item_json(known, row); })},
      {"inspections", each(record.inspections, inspection_json)},
      {"hours", hours_json(known, timeline.hours)},
      {"fasteners_of_the_build", balance_json(timeline)},
      {"entry", record.entry ? entry_json(*record.entry) : Json(nullptr)},
      {"amendments", each(record.amendments, entry_json)}};
  return document.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace jigtime::report
