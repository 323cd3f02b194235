#include "report/sample_sessions.h"

namespace jigtime::test {
namespace {

using namespace jigtime::journal;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr PersonId builder{1};
constexpr PersonId helper{2};
constexpr CameraId bench{1};
constexpr CameraId overhead{2};
constexpr CameraId phone{3};
constexpr TaskId dimpling{1};
constexpr TaskId riveting{2};
constexpr TaskId edge{3};

Length length_of(SessionTime from, SessionTime to) { return to - from; }

Clip clip(std::int64_t id, CameraId camera, std::vector<std::string> files, Length length) {
  Clip made;
  made.id = {id};
  made.session = {1};
  made.camera = camera;
  made.length = length;
  made.pictures = Pictures{"h264", 1920, 1080, milliseconds{40}};
  made.sound = Sound{"aac", 48000, 2};
  for (const std::string& file : files) {
    Part part;
    part.id = {id * 100 + static_cast<std::int64_t>(made.parts.size())};
    part.path = "/footage/" + file;
    const auto count = static_cast<int>(files.size());
    part.length = length / count;
    part.clip_from = ClipTime{part.length * static_cast<int>(made.parts.size())};
    made.parts.push_back(part);
  }
  return made;
}

struct Stretch {
  SessionTime from;
  SessionTime to;
};

Placement placed(std::int64_t clip, Basis basis, Length sigma, const std::vector<Stretch>& stretches) {
  Placement made;
  made.clip = {clip};
  made.basis = basis;
  ClipTime into{};
  for (const Stretch& stretch : stretches) {
    const Length length = length_of(stretch.from, stretch.to);
    made.pieces.push_back({into, into + length, stretch.from, 0, sigma});
    into += length;
  }
  return made;
}

Span work(std::int64_t id, TaskId task, SessionTime from, SessionTime to, std::vector<PersonId> people) {
  Span span;
  span.id = {id};
  span.session = {1};
  span.begin = from;
  span.end = to;
  span.task = task;
  span.people = std::move(people);
  return span;
}

Span pause(std::int64_t id, SessionTime from, SessionTime to, std::string note) {
  Span span;
  span.id = {id};
  span.session = {1};
  span.kind = SpanKind::pause;
  span.begin = from;
  span.end = to;
  span.note = std::move(note);
  return span;
}

void add_register(report::Timeline& timeline) {
  timeline.known.people = {{builder, "Ilda Serrano", Role::builder}, {helper, "Bento Ayoub", Role::helper}};
  timeline.known.assemblies = {{{1}, std::nullopt, "Tail"}, {{2}, AssemblyId{1}, "Elevator, left"}};
  timeline.known.tasks = {{dimpling, "Dimple elevator skin", AssemblyId{2}, "7", "4"},
                          {riveting, "Rivet elevator skin", AssemblyId{2}, "7", "9"},
                          {edge, "Bend and clamp trailing edge", AssemblyId{2}, "8", "1"}};
  timeline.known.planned = {{{1}, riveting, "MS20426AD3-3.5", 96}, {{2}, riveting, "MS20426AD3-4", 12}};
  timeline.known.cameras = {{bench, "bench"}, {overhead, "overhead"}, {phone, "phone on the stool"}};
}

void add_footage(SessionRecord& record) {
  record.clips = {clip(1, bench, {"BN_0041.MP4", "BN_0042.MP4"}, hours{1} + minutes{24}),
                  clip(2, bench, {"BN_0043.MP4"}, minutes{51}),
                  clip(3, overhead, {"20260314_081502.mov"}, minutes{58}),
                  clip(4, overhead, {"20260314_092240.mov"}, minutes{70}),
                  clip(5, phone, {"VID_0007.mp4"}, minutes{22}),
                  clip(6, phone, {"VID_0008.mp4"}, minutes{3}),
                  clip(7, phone, {"VID_0009.mp4"}, seconds{48})};
  record.clips[3].notes = {"The camera's own clock ran backwards within this clip."};
  record.placements = {
      placed(1, Basis::audio, std::chrono::microseconds{400}, {{at(0, 0), at(1, 24)}}),
      placed(2, Basis::audio, std::chrono::microseconds{600}, {{at(1, 31), at(2, 22)}}),
      placed(3, Basis::audio, std::chrono::microseconds{350}, {{at(0, 6, 12), at(1, 4, 12)}}),
      placed(4, Basis::audio, std::chrono::microseconds{900}, {{at(1, 13, 50), at(1, 40)}, {at(1, 46, 30), at(2, 24)}}),
      placed(5, Basis::clock, seconds{95}, {{at(0, 40), at(1, 2)}}),
      placed(6, Basis::manual, milliseconds{80}, {{at(1, 50), at(1, 53)}})};
  record.placements[0].evidence = {{{3}, minutes{58}, 14200, 40, 39}, {{4}, minutes{10}, 9100, 8, 8}};
  record.placements[4].notes = {"Its sound was switched off, so only its clock speaks for this place."};
  Placement none;
  none.clip = {7};
  none.notes = {"It is silent and its clock stands at a factory date."};
  record.placements.push_back(none);
  record.clocks = {{{1}, bench, Length{0}, 0, true}, {{1}, overhead, seconds{-3601}, 1200, true}};
  record.unreadable = {{{1},
                        overhead,
                        "20260314_103500.mov",
                        "The file ends in the middle: copy it from the card again, or go on without it."}};
}

void add_work(SessionRecord& record) {
  record.spans = {work(1, dimpling, at(0, 4), at(0, 38), {builder}),
                  pause(2, at(0, 38), at(0, 47), "Tea"),
                  work(3, riveting, at(0, 47), at(1, 29), {builder, helper}),
                  work(4, edge, at(1, 5), at(1, 12, 30), {helper}),
                  pause(5, at(1, 29), at(1, 33), ""),
                  work(6, riveting, at(1, 33), at(2, 20), {builder})};
  record.spans[0].note = "Skin dimpled from the inside, spar flange countersunk.";
  record.spans[2].fasteners = {{"MS20426AD3-3.5", Method::driven, 46, 2}};
  record.spans[2].note = "Two drilled out: bucking bar slipped. Hole still within limits, same size set again.";
  record.spans[5].fasteners = {{"MS20426AD3-3.5", Method::driven, 50, 0}, {"MS20426AD3-4", Method::squeezed, 14, 0}};
  record.marks = {{{1}, {1}, at(0, 51, 20), "First rivet of the row, gauge shows the head."},
                  {{2}, {1}, at(1, 2, 5), "Bar slipped: this one comes out."},
                  {{3}, {1}, at(1, 3, 40), "Drilled head popped off with a punch."},
                  {{4}, {1}, at(2, 16), "Finished skin against the light."}};
}

}  // namespace

SessionTime at(int whole_hours, int whole_minutes, int whole_seconds) {
  return SessionTime{hours{whole_hours} + minutes{whole_minutes} + seconds{whole_seconds}};
}

report::Timeline empty_session() {
  report::Timeline timeline;
  timeline.build.name = "Heron 2";
  timeline.record.session.id = {1};
  timeline.record.session.date = std::chrono::year{2026} / 3 / 14;
  return timeline;
}

report::Timeline elevator_session() {
  report::Timeline timeline = empty_session();
  timeline.build = {"Heron 2", "XX-HRN", "Village workshop, Vale Manso", "Europe/Lisbon", Rounding::tenth_hour};
  timeline.record.session.zero = WallTime{std::chrono::sys_days{timeline.record.session.date} + hours{8} + minutes{9}};
  timeline.record.session.reference = bench;
  timeline.record.session.note = "Rain all day. 14 °C in the shop.";
  add_register(timeline);
  add_footage(timeline.record);
  add_work(timeline.record);
  timeline.hours = count_hours(timeline.record);
  timeline.build_balance = balance(timeline.known, timeline.record.spans);
  return timeline;
}

report::Timeline long_day() {
  report::Timeline timeline = elevator_session();
  SessionRecord& record = timeline.record;
  record = SessionRecord{record.session, {}, {}, {}, {}, {}, {}, {}, {}};
  for (int i = 0; i < 300; ++i) {
    const CameraId camera{1 + i % 3};
    const SessionTime from = at(0, 0, (i / 3) * 288 + static_cast<int>(camera.value) * 7);
    record.clips.push_back(clip(i + 1, camera, {"CLIP" + std::to_string(1000 + i) + ".MP4"}, seconds{270}));
    record.placements.push_back(
        placed(i + 1, Basis::audio, std::chrono::microseconds{500}, {{from, from + seconds{270}}}));
  }
  for (int i = 0; i < 60; ++i) {
    const TaskId task{1 + i % 3};
    record.spans.push_back(work(i + 1, task, at(0, i * 8), at(0, i * 8 + 7), {i % 4 == 0 ? helper : builder}));
    record.marks.push_back({{i + 1}, {1}, at(0, i * 8 + 3), "Mark of span " + std::to_string(i + 1)});
  }
  timeline.hours = count_hours(record);
  return timeline;
}

report::Timeline crowded_day() {
  report::Timeline timeline = long_day();
  SessionRecord& record = timeline.record;
  record.clips.clear();
  record.placements.clear();
  timeline.known.cameras.clear();
  for (int camera = 1; camera <= 6; ++camera) {
    timeline.known.cameras.push_back({{camera}, "camera " + std::to_string(camera)});
    for (int i = 0; i < 100; ++i) {
      const int id = camera * 1000 + i;
      const SessionTime from = at(0, 0, i * 288 + camera * 9);
      record.clips.push_back(clip(id, {camera}, {"C" + std::to_string(id) + ".MP4"}, seconds{250 + camera * 5}));
      record.placements.push_back(
          placed(id, Basis::audio, std::chrono::microseconds{500}, {{from, from + seconds{250 + camera * 5}}}));
    }
  }
  timeline.hours = count_hours(record);
  return timeline;
}

report::Timeline scripts_session() {
  report::Timeline timeline = elevator_session();
  timeline.build.name = "ברקוד 🛩️ 鷺";
  timeline.known.people[0].name = "רותם לוי";
  timeline.known.people[1].name = "山田 花子 ✈️";
  timeline.known.tasks[1].title = "昇降舵の外板をリベット留めする";
  timeline.record.spans[2].note = "שתי מסמרות נקדחו, 二本抜いた 🔩";
  for (Clip& one : timeline.record.clips) one.pictures->picture_length = Length{33'366'667};
  for (Placement& placement : timeline.record.placements) {
    for (Piece& piece : placement.pieces) piece.rate_ppb = 80'000;
  }
  // A recording in two files: the second goes on where the pictures of the first end.
  timeline.record.clips[0].parts[0].length = minutes{42};
  timeline.record.clips[0].parts[1].clip_from = ClipTime{minutes{42}};
  timeline.record.clips[0].parts[1].length = minutes{42};
  timeline.hours = count_hours(timeline.record);
  return timeline;
}

report::Timeline hostile_session() {
  report::Timeline timeline = elevator_session();
  const std::string nasty =
      "</td></svg><script>alert(1)</script> ]]> & \"quoted\" 'single' <!-- --> ../../etc\n\x01\x7F\xEF\xBF\xBF";
  const std::string long_name(180, 'W');
  timeline.build.name = nasty;
  timeline.build.place = long_name;
  timeline.known.people[0].name = long_name;
  timeline.known.people[1].name = nasty;
  timeline.known.tasks[1].title = nasty + long_name;
  timeline.known.assemblies[1].name = nasty;
  timeline.known.cameras[0].name = long_name;
  timeline.known.cameras[1].name = nasty;
  timeline.record.session.note = nasty;
  timeline.record.spans[0].note = nasty;
  timeline.record.marks[0].note = nasty;
  timeline.record.clips[0].parts[0].path = std::filesystem::path{"broken\xFF\xFE<b>.mp4"};
  timeline.record.clips[1].parts[0].path = std::filesystem::path{long_name + ".mp4"};
  timeline.record.unreadable[0].why = nasty;
  timeline.record.placements.back().notes = {nasty};
  return timeline;
}

}  // namespace jigtime::test
