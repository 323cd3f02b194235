#include "report/facts.h"

#include <algorithm>

#include "base/text.h"
#include "handbook/callout.h"
#include "report/rounding.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

std::string shown_hours(Length length, journal::Rounding rounding) {
  return hours_words(shown_length(length, rounding), rounding);
}

std::string length_or_none(Length length) { return length > Length{0} ? length_words(length) : "none"; }

std::string seal_words(const journal::SessionRecord& record) {
  if (!record.entry) return "Not sealed: this record can still be changed.";
  const journal::Entry& entry = *record.entry;
  return "Entry " + std::to_string(entry.number) + ", sealed " + to_text(entry.sealed_at) + "\nSHA-256 " +
         one_line(entry.digest) + "\nafter " + one_line(entry.previous);
}

std::string footage_words(const Timeline& timeline, const Day& day) {
  if (day.cameras.empty()) return "None";
  std::size_t placed = 0;
  for (const CameraLane& lane : day.cameras) placed += lane.clips.size();
  return count_words(day.cameras.size(), "camera", "cameras") + ", " +
         count_words(timeline.record.clips.size(), "clip", "clips") + ", " + std::to_string(placed) +
         " of them placed on one clock";
}

void add(std::vector<Fact>& facts, std::string name, const std::string& value) {
  if (!value.empty()) facts.push_back({std::move(name), value});
}

void add_footage(const Timeline& timeline, const Day& day, std::vector<std::string>& sentences) {
  if (!day.unplaced.empty()) {
    sentences.push_back(count_words(day.unplaced.size(), "clip has", "clips have") +
                        " no place on the session clock; the reasons are listed below the drawing.");
  }
  std::size_t doubtful = 0;
  for (const CameraLane& lane : day.cameras) {
    doubtful += static_cast<std::size_t>(std::count_if(lane.clips.begin(), lane.clips.end(),
                                                       [](const ClipBar& clip) { return clip.doubt == Doubt::large; }));
  }
  if (doubtful > 0) {
    sentences.push_back(count_words(doubtful, "clip is", "clips are") +
                        " placed with a doubt of more than one picture or by a camera's clock only.");
  }
  if (!timeline.record.unreadable.empty()) {
    sentences.push_back(count_words(timeline.record.unreadable.size(), "file", "files") + " could not be used.");
  }
}

void add_hours(const journal::Hours& hours, std::vector<std::string>& sentences) {
  if (hours.unfilmed > Length{0}) {
    sentences.push_back(length_words(hours.unfilmed) + " of the work was filmed by no camera; it counts all the same.");
  }
  if (hours.untagged > Length{0}) {
    sentences.push_back(length_words(hours.untagged) + " of footage lies in no span; it counts for nothing.");
  }
}

void add_fasteners(const Timeline& timeline, std::vector<std::string>& sentences) {
  const std::vector<journal::Span>& spans = timeline.record.spans;
  for (const journal::FastenerBalance& row : timeline.build_balance) {
    const bool here = std::any_of(spans.begin(), spans.end(), [&](const auto& span) { return span.task == row.task; });
    const journal::Task* task = timeline.known.task(row.task);
    if (!here || task == nullptr || row.planned == 0 || row.over() == 0) continue;
    sentences.push_back(std::to_string(row.over()) + " more " + one_line(row.callout) + " than planned stand in \"" +
                        one_line(task->title) + "\".");
  }
}

}  // namespace

std::vector<Fact> facts_of(const Timeline& timeline, const Day& day) {
  const journal::SessionRecord& record = timeline.record;
  std::vector<Fact> facts;
  add(facts, "Registration", one_line(timeline.build.registration));
  std::string clock = record.session.zero ? "0:00:00 is " + to_text(*record.session.zero) + " (UTC)"
                                          : "No clock has told at what time of day 0:00:00 was.";
  if (!timeline.build.zone.empty()) clock += "\nThe build's time zone is " + one_line(timeline.build.zone) + ".";
  add(facts, "Session clock", clock);
  add(facts, "Footage", footage_words(timeline, day));
  add(facts, "Seal", seal_words(record));
  add(facts, "Amended", amendment_words(record.amendments));
  if (!record.session.note.empty()) facts.push_back({"Note", to_utf8(record.session.note), Whose::builders});
  return facts;
}

std::vector<Fact> times_of(const Timeline& timeline) {
  const journal::Rounding rounding = timeline.build.rounding;
  const journal::Hours& hours = timeline.hours;
  return {{"Person-hours",
           shown_hours(hours.person_time, rounding) + "\nthe sum over people; two at work for an hour are two"},
          {"Elapsed hours",
           shown_hours(hours.elapsed, rounding) + "\ntime in which anybody worked; never added to person-hours"},
          {"Unfilmed", length_or_none(hours.unfilmed) + "\nof the elapsed time, seen by no camera; counted"},
          {"Untagged", length_or_none(hours.untagged) + "\nof footage in no span; not counted"}};
}

std::vector<std::string> attention_of(const Timeline& timeline, const Day& day) {
  std::vector<std::string> sentences;
  add_footage(timeline, day, sentences);
  add_hours(timeline.hours, sentences);
  add_fasteners(timeline, sentences);
  if (!timeline.record.proposals.empty()) {
    sentences.push_back(
        count_words(timeline.record.proposals.size(), "proposal", "proposals") +
        " of what was heard or seen in the footage: shown nowhere on this page and counted for nothing.");
  }
  return sentences;
}

std::vector<std::string_view> page_notice() {
  return {std::string_view{
              "Drawn from the builder's journal. It shows what the builder recorded and where the footage lies in "
              "time. It approves nothing. What stands behind it is the footage and the sealed entry, not this page."},
          std::string_view{
              "Hours are counted from the spans the builder tagged: each person's minute once, breaks out, however "
              "many cameras ran. Time inside a span that no camera saw counts and is shown as unfilmed; footage in no "
              "span is shown as untagged and does not count. Sums are kept exactly and rounded only here."},
          std::string_view{
              "Clips placed by sound are lined up by when sound reached each microphone: 3.4 m more of distance is "
              "10 ms. A dropout is time between a camera's first and last picture that it did not record, for "
              "whatever reason."},
          handbook::caution, std::string_view{"Riveting is loud and throws chips: wear hearing and eye protection."}};
}

}  // namespace jigtime::report
