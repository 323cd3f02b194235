// The work of one session, or of one assembly in it.
#include <algorithm>
#include <map>
#include <optional>

#include "base/text.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/rounding.h"
#include "report/span_words.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Span;

std::string when_of(const BookSession& session, const Span& span) {
  std::string text = time_of_day(session, span.begin) + " to " + time_of_day(session, span.end);
  return text + "\n(" + length_words(span.end - span.begin) + ")";
}

std::string people_of(const BookGround& ground, const Span& span) {
  std::string text;
  for (const journal::PersonId person : span.people) text += (text.empty() ? "" : "\n") + ground.person_name(person);
  if (!text.empty()) return text;
  return span.kind == journal::SpanKind::pause ? "everybody" : "nobody named";
}

std::string what_of(const BookGround& ground, const Span& span) {
  std::string text = span_what(ground.book.known, span);
  if (span.off_camera) text += "\n(not filmed, entered by hand)";
  return text;
}

Table spans_of(const BookGround& ground, const BookSession& session, const Part& part) {
  Table table{"",
              {{"When", Align::times},
               {"What", Align::wide_words},
               {"Who"},
               {"Fasteners", Align::wide_words},
               {"How it was done, what was seen", Align::wide_words}},
              {},
              {},
              ""};
  if (!session.record.session.zero) table.columns[0].title = "Session time";
  for (const Span& span : session.record.spans) {
    if (!part.spans(span)) continue;
    table.rows.push_back({when_of(session, span), what_of(ground, span), people_of(ground, span), span_fasteners(span),
                          clean(span.note)});
  }
  return table;
}

/// "Ilda Serrano (builder) 1.5 h; Bento Ayoub (helper) 0.6 h", adding up to what is shown as their sum.
std::string hours_of(const BookGround& ground, const std::map<journal::PersonId, Length>& by_person) {
  std::vector<Length> worked;
  for (const auto& [person, length] : by_person) worked.push_back(length);
  const std::vector<Length> shown = shown_lengths(worked, ground.rounding());
  std::string text;
  std::size_t i = 0;
  Length sum{0};
  for (const auto& [person, length] : by_person) {
    text += (text.empty() ? "" : "; ") + ground.person_name(person) + " " + hours_words(shown[i], ground.rounding());
    sum += shown[i++];
  }
  if (by_person.size() > 1) text += "; together " + hours_words(sum, ground.rounding());
  return text;
}

std::map<journal::PersonId, Length> worked_in(const BookGround& ground, const BookSession& session, const Part& part) {
  std::vector<journal::TaskId> tasks;
  bool without_task = false;
  for (const Span& span : session.record.spans) {
    if (!part.spans(span)) continue;
    if (span.task) {
      tasks.push_back(ground.book.known.meant(*span.task));
    } else {
      without_task = true;
    }
  }
  std::map<journal::PersonId, Length> worked;
  for (const journal::HoursRow& row : session.hours.rows) {
    const bool here = row.task ? std::find(tasks.begin(), tasks.end(), *row.task) != tasks.end() : without_task;
    if (here) worked[row.person] += row.worked;
  }
  return worked;
}

/// The journal's own picture of a mark, or one of that very moment.
const journal::Still* still_of(const journal::SessionRecord& record, const journal::Mark& mark) {
  const auto found = std::find_if(record.stills.begin(), record.stills.end(), [&](const journal::Still& still) {
    return still.mark == mark.id || (!still.mark && still.at == mark.at);
  });
  return found == record.stills.end() ? nullptr : &*found;
}

std::string moment_words(const BookSession& session, SessionTime at) {
  const std::string session_time = to_short_clock_text(at.time_since_epoch());
  return session.record.session.zero ? time_of_day(session, at) + " (" + session_time + ")" : session_time;
}

/// "Photo  09:30 (0:30:12), Vale do Poço" and, below, the file, what took it and the note.
std::string photo_words(const BookGround& ground, const BookSession& session, const journal::Photo& photo) {
  const std::string& own = session.record.session.place;
  const std::string place = one_line(clean(own.empty() ? ground.book.build.place : own));
  std::string words = "Photo  " + (photo.at ? moment_words(session, *photo.at) : std::string{"at no known time"});
  if (!place.empty()) words += ", " + place;
  words += "\n" + one_line(clean(photo.path.filename().string()));
  if (!photo.camera.empty()) words += ", " + one_line(clean(photo.camera));
  if (!photo.note.empty()) words += "\n" + clean(photo.note);
  return words;
}

/// Pictures by time, those of no known time last; and what is named and not shown.
struct Shown {
  std::vector<std::pair<std::optional<SessionTime>, Picture>> pictures;
  std::vector<Paragraph> plain;
};

void add_marks(const BookSession& session, const Part& part, Shown& shown) {
  std::vector<journal::StillId> of_marks;
  int number = 0;
  for (const journal::Mark& mark : session.record.marks) {
    ++number;
    if (!part.moments(mark.at)) continue;
    std::string words = "M" + std::to_string(number) + "  " + moment_words(session, mark.at);
    if (!mark.note.empty()) words += "\n" + clean(mark.note);
    if (const journal::Still* still = still_of(session.record, mark)) {
      of_marks.push_back(still->id);
      shown.pictures.push_back({mark.at, {still->id.value, std::move(words)}});
    } else {
      std::replace(words.begin(), words.end(), '\n', ' ');
      shown.plain.push_back({"Mark " + words, Voice::small});
    }
  }
  for (const journal::Still& still : session.record.stills) {
    if (!part.moments(still.at) || std::find(of_marks.begin(), of_marks.end(), still.id) != of_marks.end()) continue;
    shown.pictures.push_back({still.at, {still.id.value, moment_words(session, still.at)}});
  }
}

void add_photos(const BookGround& ground, const BookSession& session, const Part& part, Shown& shown) {
  for (const journal::Photo& photo : session.record.photos) {
    if (!(photo.at ? part.moments(*photo.at) : part.timeless)) continue;
    std::string words = photo_words(ground, session, photo);
    const auto why = ground.book.photos_not_shown.find(photo.id);
    if (why == ground.book.photos_not_shown.end()) {
      shown.pictures.push_back({photo.at, {photo.id.value, std::move(words), PictureKind::photo}});
    } else {
      for (auto at = words.find('\n'); at != std::string::npos; at = words.find('\n', at)) words.replace(at, 1, ", ");
      shown.plain.push_back({words + " (Not shown: " + why->second + ".)", Voice::small});
    }
  }
}

void add_pictures(const BookGround& ground, const BookSession& session, const Part& part, Blocks& blocks) {
  Shown shown;
  add_marks(session, part, shown);
  add_photos(ground, session, part, shown);
  std::stable_sort(shown.pictures.begin(), shown.pictures.end(),
                   [](const auto& a, const auto& b) { return a.first && (!b.first || *a.first < *b.first); });
  PictureGrid grid;
  for (auto& [at, picture] : shown.pictures) grid.pictures.push_back(std::move(picture));
  if (!grid.pictures.empty()) blocks.push_back(std::move(grid));
  for (Paragraph& paragraph : shown.plain) blocks.push_back(std::move(paragraph));
}

}  // namespace

Blocks work_blocks(const BookGround& ground, const BookSession& session, const Part& part) {
  Blocks blocks;
  Table spans = spans_of(ground, session, part);
  if (!spans.rows.empty()) blocks.push_back(std::move(spans));
  if (const auto worked = worked_in(ground, session, part); !worked.empty()) {
    blocks.push_back(FactList{{{"Hours", hours_of(ground, worked)}}});
  }
  add_pictures(ground, session, part, blocks);
  return blocks;
}

}  // namespace jigtime::report
