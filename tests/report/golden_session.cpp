// One small session that the golden files are made of. It is for them alone: a change here changes all of them.
#include "report/sample_book.h"
#include "report/sample_sessions.h"

namespace jigtime::test {
namespace {

using namespace jigtime::journal;
using namespace std::chrono_literals;

const WallTime morning{std::chrono::sys_days{std::chrono::year{2026} / 3 / 29} + 7h};

Build golden_build() {
  return {"Heron 2 <no. 7>", "XX-HRN", "Village workshop; Vale, Manso", "Europe/Lisbon", Rounding::tenth_hour};
}

Register golden_register() {
  Register known;
  known.people = {{{1}, "Ilda Serrano", Role::builder}, {{2}, "רותם, \"Rot\"", Role::helper}};
  known.assemblies = {{{1}, std::nullopt, "Tail"}, {{2}, AssemblyId{1}, "Elevator, left"}};
  known.tasks = {{{1}, "=Rivet; skin & spar", AssemblyId{2}, "7", "9"}, {{2}, "Sweep the shop", std::nullopt, "", ""}};
  known.planned = {{{1}, {1}, "MS20426AD3-3.5", 60}};
  known.cameras = {{{1}, "bench"}, {{2}, "над головой"}};
  return known;
}

Clip golden_clip(std::int64_t id, CameraId camera, std::initializer_list<const char*> files, Length length,
                 Length frame) {
  Clip clip;
  clip.id = {id};
  clip.session = {1};
  clip.camera = camera;
  clip.length = length;
  clip.pictures = Pictures{"h264", 1920, 1080, frame};
  clip.sound = Sound{"aac", 48000, 2};
  for (const char* file : files) {
    Part part;
    part.id = {id * 10 + static_cast<std::int64_t>(clip.parts.size())};
    part.path = std::string{"/footage/"} + file;
    part.identity.size_bytes = 1000 + static_cast<std::uint64_t>(id);
    part.length = length / static_cast<int>(files.size());
    part.clip_from = ClipTime{part.length * static_cast<int>(clip.parts.size())};
    clip.parts.push_back(part);
  }
  return clip;
}

void add_footage(SessionRecord& record) {
  record.clips = {golden_clip(1, {1}, {"BN_1.MP4", "BN_2.MP4"}, 60min, 40ms),
                  golden_clip(2, {2}, {"верх, 1.mov"}, 30min, Length{33'366'667}),
                  golden_clip(3, {2}, {"lost.mov"}, 2min, 40ms)};
  record.placements = {{{1}, Basis::audio, {{ClipTime{}, ClipTime{60min}, SessionTime{}, 0, 400us}}, {}, {}},
                       {{2},
                        Basis::clock,
                        {{ClipTime{}, ClipTime{10min}, SessionTime{5min}, 80'000, 2s},
                         {ClipTime{10min}, ClipTime{30min}, SessionTime{16min}, 80'000, 2s}},
                        {},
                        {"Its sound was switched off."}}};
  record.unreadable = {{{1}, {2}, "torn.mov", "The file ends in the middle: copy it from the card again."}};
}

Span golden_span(std::int64_t id, SessionTime begin, SessionTime end) {
  Span span;
  span.id = {id};
  span.session = {1};
  span.begin = begin;
  span.end = end;
  return span;
}

void add_work(SessionRecord& record) {
  Span riveting = golden_span(1, SessionTime{2min}, SessionTime{40min});
  riveting.task = TaskId{1};
  riveting.people = {{1}, {2}};
  riveting.fasteners = {{"MS20426AD3-3.5", Method::driven, 42, 2}};
  riveting.note = "@First line, \"quoted\";\nsecond line: 鋲を打つ 🛩";
  Span tea = golden_span(2, SessionTime{20min}, SessionTime{25min});
  tea.kind = SpanKind::pause;
  tea.note = "Tea";
  Span sweeping = golden_span(3, SessionTime{65min}, SessionTime{75min});
  sweeping.task = TaskId{2};
  sweeping.people = {{1}};
  record.spans = {riveting, tea, sweeping};
  record.marks = {{{1}, {1}, SessionTime{8min + 30s}, "Bar slipped --> this one comes out <again>."}};
  record.items = {{{1}, ItemKind::part, "Hinge pin, 1/8", record.session.date, SessionId{1}, SessionTime{30min}}};
  record.inspections = {
      {{1}, record.session.date, "R. Vane", "4711", "Elevator before closing", "One low head.", "", SessionId{1}}};
  record.photos = {{{1}, {1}, "/photos/IMG 1.jpg", {}, "phone", std::nullopt, SessionTime{33min}, 2s, "The gauge."}};
}

SessionRecord golden_record() {
  SessionRecord record;
  record.session.id = {1};
  record.session.date = std::chrono::year{2026} / 3 / 29;  // summer time began that night
  record.session.zero = morning;
  record.session.reference = CameraId{1};
  record.session.note = "Rain; all day,\nand a cold shop.";
  add_footage(record);
  add_work(record);
  return record;
}

}  // namespace

report::Timeline golden_session() {
  report::Timeline timeline;
  timeline.build = golden_build();
  timeline.known = golden_register();
  timeline.record = golden_record();
  timeline.hours = count_hours(timeline.record);
  timeline.made = morning + 12h;
  return timeline;
}

report::Book golden_book() {
  report::Book book;
  book.build = golden_build();
  book.known = golden_register();
  report::BookSession session;
  session.record = golden_record();
  session.hours = count_hours(session.record);
  session.local = 1h;
  book.items = session.record.items;
  book.inspections = session.record.inspections;
  book.sessions.push_back(std::move(session));
  book.photos_not_shown = {{{1}, "its file was changed since it was added"}};
  book.made = morning + 12h;
  book.made_local = 1h;
  return book;
}

}  // namespace jigtime::test
