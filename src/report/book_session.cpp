// What belongs to a session as a whole.
#include <algorithm>
#include <map>

#include "base/text.h"
#include "journal/coverage.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

void add(FactList& list, std::string name, std::string value) {
  if (!value.empty()) list.facts.push_back({std::move(name), std::move(value)});
}

std::string place_words(const BookGround& ground, const BookSession& session) {
  const std::string& own = session.record.session.place;
  return one_line(clean(own.empty() ? ground.book.build.place : own));
}

std::string clock_words(const BookSession& session) {
  const auto& zero = session.record.session.zero;
  if (!zero) return "No clock has told the time of day; times are counted from the session's first instant.";
  return "0:00:00 is " + time_of_day(session, SessionTime{}) + " local time, " + to_text(*zero) + ".";
}

/// One line a camera: how many clips, how long, from which file to which.
std::string footage_words(const BookGround& ground, const BookSession& session) {
  const journal::SessionRecord& record = session.record;
  std::map<journal::CameraId, std::vector<const journal::Clip*>> cameras;
  for (const journal::Clip& clip : record.clips) cameras[clip.camera].push_back(&clip);
  std::string text;
  for (const auto& [id, clips] : cameras) {
    const journal::Camera* camera = ground.book.known.camera(id);
    Length length{0};
    std::size_t let_go = 0;
    for (const journal::Clip* clip : clips) {
      length += clip->length;
      let_go += clip->let_go ? 1U : 0U;
    }
    text += (text.empty() ? "" : "\n") + (camera == nullptr ? std::string{"camera"} : one_line(clean(camera->name))) +
            ": " + count_words(clips.size(), "clip", "clips") + ", " + length_words(length) + ", " +
            one_line(clean(clips.front()->name()));
    if (clips.size() > 1) text += " to " + one_line(clean(clips.back()->name()));
    if (let_go > 0) text += "; footage of " + std::to_string(let_go) + " let go";
  }
  if (!record.unreadable.empty()) {
    text += (text.empty() ? "" : "\n") + count_words(record.unreadable.size(), "file", "files") + " could not be used";
  }
  return text.empty() ? "None" : text;
}

std::string unfilmed_words(const BookSession& session) {
  std::string text;
  if (session.hours.unfilmed > Length{0})
    text = length_words(session.hours.unfilmed) + " of the work was not filmed; it counts.";
  if (session.hours.untagged > Length{0}) {
    text += (text.empty() ? "" : " ") + length_words(session.hours.untagged) +
            " of footage lies in no span; it does not count.";
  }
  return text;
}

std::string items_words(const BookSession& session) {
  std::string text;
  for (const journal::OpenItem& item : session.record.items) {
    const bool opened = item.session == session.record.session.id;
    const bool closed = item.closing && item.closing->session == session.record.session.id;
    std::string line = (opened && closed ? "Opened and closed: "
                        : closed         ? "Closed: "
                                         : "Opened: ") +
                       one_line(clean(item.words)) + " (" + std::string{to_text(item.kind)} + ")";
    if (closed && !item.closing->words.empty()) line += ", " + one_line(clean(item.closing->words));
    text += (text.empty() ? "" : "\n") + line;
  }
  return text;
}

std::string inspections_words(const BookSession& session) {
  std::string text;
  for (const journal::Inspection& row : session.record.inspections) {
    text += (text.empty() ? "" : "\n") + one_line(clean(row.looked_at)) + ", by " + one_line(clean(row.person));
    if (!row.licence.empty()) text += " (" + one_line(clean(row.licence)) + ")";
    text += row.findings.empty() ? ": nothing was found wrong" : ": " + one_line(clean(row.findings));
    if (row.cleared_on) text += "; put right on " + day_words(*row.cleared_on);
  }
  return text;
}

std::string seal_words(const BookSession& session) {
  const auto& entry = session.record.entry;
  if (!entry) return "Not sealed: this entry can still be changed.";
  return "Entry " + std::to_string(entry->number) + ", sealed " + to_text(entry->sealed_at) + "\nSHA-256 " +
         entry->digest;
}

}  // namespace

Blocks session_facts(const BookGround& ground, const BookSession& session, Length running) {
  FactList list;
  add(list, "Place", place_words(ground, session));
  add(list, "Session clock", clock_words(session));
  add(list, "Footage", footage_words(ground, session));
  if (!session.record.session.note.empty()) {
    list.facts.push_back({"Note", clean(session.record.session.note), Whose::builders});
  }
  add(list, "Beside the hours", unfilmed_words(session));
  add(list, "What waits", items_words(session));
  add(list, "Looked at", inspections_words(session));
  add(list, "Running total", ground.hours_text(running) + " person-hours up to and with this day, rounded by itself");
  add(list, "Seal", seal_words(session));
  add(list, "Amended", amendment_words(session.record.amendments));
  Blocks blocks;
  blocks.push_back(std::move(list));
  return blocks;
}

}  // namespace jigtime::report
