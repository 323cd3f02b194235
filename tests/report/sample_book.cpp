#include "report/sample_book.h"

#include <functional>

#include "base/text.h"
#include "journal/seal.h"
#include "report/sample_sessions.h"

namespace jigtime::test {
namespace {

using namespace jigtime::journal;
using report::Book;
using report::BookSession;
using std::chrono::hours;
using std::chrono::minutes;

/// Not SHA-256, but as long: what a book prints, not what it proves.
std::string digest_like(std::string_view text) {
  std::string digest;
  for (int i = 0; i < 4; ++i) {
    std::size_t part = std::hash<std::string>{}(std::string{text} + std::to_string(i));
    for (int k = 0; k < 16; ++k, part >>= 4U) digest += "0123456789abcdef"[part & 15U];
  }
  return digest;
}

WallTime morning_of(std::chrono::year_month_day date) { return WallTime{std::chrono::sys_days{date} + hours{8}}; }

Register sample_register() {
  Register known;
  known.people = {{{1}, "Ilda Serrano", Role::builder},
                  {{2}, "Bento Ayoub", Role::helper},
                  {{3}, "רותם לוי", Role::helper},
                  {{4}, "山田 花子 ✈️", Role::hired},
                  {{5}, std::string(150, 'W'), Role::supplier}};
  known.assemblies = {{{1}, std::nullopt, "Tail"},
                      {{2}, AssemblyId{1}, "Elevator, left"},
                      {{3}, AssemblyId{1}, "Rudder"},
                      {{4}, std::nullopt, "Wing, right"}};
  known.tasks = {{{1}, "Dimple elevator skin", AssemblyId{2}, "7", "4"},
                 {{2}, "Rivet elevator skin", AssemblyId{2}, "7", "9"},
                 {{3}, "Rivet rudder skin", AssemblyId{3}, "9", "2"},
                 {{4}, "Deburr ribs", AssemblyId{4}, "12", ""},
                 {{5}, "Sweep the shop", std::nullopt, "", ""}};
  known.tasks[1].checklist_line = ChecklistLineId{1};
  known.tasks[0].parent = TaskId{2};
  known.tasks[2].checklist_line = ChecklistLineId{2};
  known.planned = {{{1}, {2}, "MS20426AD3-3.5", 480}, {{2}, {3}, "MS20470AD4-4", 60}};
  known.cameras = {{{1}, "bench"}, {{2}, "overhead"}};
  known.checklists = {{{1},
                       "tail",
                       "Tail group",
                       "Written for this sample.",
                       false,
                       {{{1}, "1", "Assemble the elevator", "Elevator", true, {2, 0, 8, 0}},
                        {{2}, "2", "Assemble the rudder", "Rudder", true, {2, 1, 7, 0}},
                        {{3}, "3", "Fit trim motor", "Rudder", false, {0, 0, 0, 0}}}}};
  return known;
}

Span work(std::int64_t id, std::int64_t task, int from_minutes, int to_minutes, std::vector<PersonId> people) {
  Span span;
  span.id = {id};
  span.begin = SessionTime{minutes{from_minutes}};
  span.end = SessionTime{minutes{to_minutes}};
  span.task = TaskId{task};
  span.people = std::move(people);
  return span;
}

void seal(Book& book, BookSession& session) {
  Entry entry = next_entry(book.chain, book.build, book.known, session.record,
                           morning_of(session.record.session.date) + hours{12}, digest_like);
  book.chain.push_back(entry);
  session.record.entry = std::move(entry);
}

void add_pictures(SessionRecord& record, std::int64_t number) {
  for (int i = 0; i < 2; ++i) {
    const std::int64_t id = number * 10 + i;
    const SessionTime at{minutes{20 + 60 * i}};
    record.marks.push_back(
        {{id}, {number}, at, i == 0 ? "First rivet of the row, gauge shows the head." : "Finished skin."});
    record.stills.push_back({{id}, {number}, at, {1}, std::nullopt, {}, MarkId{id}, std::string(64, 'a')});
  }
}

BookSession session_of(std::int64_t number, std::chrono::year_month_day date) {
  BookSession session;
  session.record.session.id = {number};
  session.record.session.date = date;
  session.record.session.zero = morning_of(date);
  session.local = hours{1};
  Clip clip;
  clip.id = {number};
  clip.camera = {1};
  clip.length = hours{3};
  Part part;
  part.path = "BN_" + std::to_string(4000 + number) + ".MP4";
  clip.parts = {part};
  session.record.clips = {clip};
  session.record.placements = {
      {{number}, Basis::manual, {{ClipTime{}, ClipTime{hours{3}}, SessionTime{}, 0, Length{1}}}, {}, {}}};
  return session;
}

void fill_sample(Book& book, std::int64_t number, BookSession& session) {
  SessionRecord& record = session.record;
  const std::int64_t task = 1 + number % 5;
  const PersonId other{1 + number % 5};
  record.spans = {work(number * 10, task, 5, 65, {{1}}), work(number * 10 + 1, 2, 70, 150, {{1}, other})};
  if (other.value == 1) record.spans[1].people.pop_back();
  record.spans[1].fasteners = {{"MS20426AD3-3.5", Method::driven, 40, 1}};
  record.spans[1].note = "Driven with the small gun. One drilled out again, same size set.\nHole within limits.";
  if (number == 3)
    record.spans[0].note =
        std::string(20, 'x') + " ארוכה מאוד, とても長い 🛩️ " + std::string(400, 'y');
  Span tea = work(number * 10 + 2, 1, 65, 70, {});
  tea.kind = SpanKind::pause;
  tea.task.reset();
  record.spans.insert(record.spans.begin() + 1, tea);
  add_pictures(record, number);
  if (number == 2) record.session.note = "Rain all day.\nThe compressor's belt squeals.";
  session.hours = count_hours(record);
  if (number % 4 != 0) seal(book, session);
}

}  // namespace

Book empty_book() {
  Book book;
  book.build.name = "Heron 2";
  book.made = WallTime{std::chrono::sys_days{std::chrono::year{2026} / 4 / 1} + hours{9}};
  return book;
}

Book sample_book(std::vector<std::uint8_t> still) {
  Book book = empty_book();
  book.build = {"Heron 2", "XX-HRN", "Village workshop, Vale Manso", "Europe/Lisbon", Rounding::tenth_hour};
  book.known = sample_register();
  for (int number = 1; number <= 9; ++number) {
    BookSession session =
        session_of(number, std::chrono::year_month_day{std::chrono::sys_days{std::chrono::year{2025} / 12 / 20} +
                                                       std::chrono::days{4 * number}});
    fill_sample(book, number, session);
    book.sessions.push_back(std::move(session));
  }
  BookSession idle = session_of(10, std::chrono::year{2026} / 2 / 3);
  idle.record.clips.clear();
  idle.record.placements.clear();
  book.sessions.push_back(std::move(idle));
  BookSession& amended = book.sessions[1];
  Entry amendment = next_amendment(book.chain, *amended.record.entry, "Counted again.", "40 set", "39 set",
                                   morning_of(std::chrono::year{2026} / 2 / 1), digest_like);
  book.chain.push_back(amendment);
  amended.record.amendments = {amendment};
  book.items = {{{1},
                 ItemKind::part,
                 "Hinge pin, 1/8",
                 std::chrono::year{2026} / 1 / 5,
                 std::nullopt,
                 std::nullopt,
                 std::nullopt,
                 TaskId{3}},
                {{2},
                 ItemKind::redo,
                 "Smoked rivet, third from the left",
                 std::chrono::year{2025} / 12 / 28,
                 SessionId{2},
                 SessionTime{minutes{90}},
                 std::nullopt,
                 TaskId{2},
                 ItemClosing{std::chrono::year{2026} / 1 / 9, std::nullopt, std::nullopt, "Drilled and set again."}}};
  book.inspections = {{{1},
                       std::chrono::year{2026} / 1 / 17,
                       "R. Vane",
                       "4711",
                       "Elevator before closing",
                       "One low head.",
                       "pre-cover",
                       std::nullopt,
                       std::nullopt,
                       std::chrono::year{2026} / 1 / 18}};
  book.signatures = {{2, std::string(64, 'b'), std::string(128, 'c')}};
  book.checklists = {{{1}, {"The builder's part of this list is 75 %.", "Tasks carry the finding, not hours."}}};
  book.regime = "United States, experimental amateur-built";
  book.still = [still](StillId) { return still; };
  book.photo = [still](PhotoId) { return still; };
  book.sessions[0].record.photos = {
      {{1}, {1}, "/photos/IMG_0007.JPG", {}, "phone", std::nullopt, SessionTime{minutes{40}}, {}, "Gauge on the head."},
      {{2}, {1}, "/photos/IMG_0008.HEIC", {}, "phone", std::nullopt, std::nullopt, {}, ""}};
  book.photos_not_shown = {{{2}, "only JPEG and PNG files are shown"}};
  return book;
}

Book long_book(int count, std::vector<std::uint8_t> still) {
  Book book = sample_book(std::move(still));
  book.sessions.clear();
  book.chain.clear();
  book.signatures.clear();
  for (int number = 1; number <= count; ++number) {
    BookSession session =
        session_of(number, std::chrono::year_month_day{std::chrono::sys_days{std::chrono::year{2020} / 1 / 1} +
                                                       std::chrono::days{2 * number}});
    SessionRecord& record = session.record;
    for (int i = 0; i < 10; ++i) {
      record.spans.push_back(
          work(number * 10 + i, 1 + (number + i) % 5, 15 * i, 15 * i + 14, {{1}, {2 + (number + i) % 2}}));
      record.spans.back().note =
          "Row " + std::to_string(i) + " of skin " + std::to_string(number) + ": flush, heads checked with the gauge.";
      if (i % 2 == 0) record.spans.back().fasteners = {{"MS20426AD3-3.5", Method::driven, 12 + i, i % 3}};
    }
    add_pictures(record, number);
    session.hours = count_hours(record);
    // The chain is checked by every entry that is added; for a thousand of them a look-alike will do.
    Entry entry;
    entry.session = record.session.id;
    entry.number = number;
    entry.sealed_at = morning_of(record.session.date) + hours{12};
    entry.previous = book.chain.empty() ? std::string{no_digest} : book.chain.back().digest;
    entry.digest = digest_like(entry.previous);
    book.chain.push_back(entry);
    record.entry = std::move(entry);
    book.sessions.push_back(std::move(session));
  }
  return book;
}

}  // namespace jigtime::test
