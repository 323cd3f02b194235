#include "demo/tags.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace jigtime::demo {
namespace {

using std::chrono::seconds;

SessionTime whole_seconds(Seconds t) { return SessionTime{seconds{std::lround(t)}}; }
SessionTime milliseconds_of(Seconds t) { return SessionTime{std::chrono::milliseconds{std::lround(t * 1000)}}; }

std::vector<FastenerCount> rivets_set(const Story& story, Seconds from, Seconds to) {
  FastenerCount count{std::string{callout}, story.set_within(from, to), story.drilled_within(from, to)};
  return count.set > 0 ? std::vector{count} : std::vector<FastenerCount>{};
}

std::string quoted(const std::string& field) {
  if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
  std::string text = "\"";
  for (const char c : field) {
    if (c == '"') text += '"';
    text += c;
  }
  return text + '"';
}

template <class Items, class Text>
std::string joined(const Items& items, Text text_of) {
  std::string text;
  for (const auto& item : items) text += (text.empty() ? "" : ";") + text_of(item);
  return text;
}

bool names(const Tag& tag, const std::string& person) { return std::ranges::count(tag.people, person) > 0; }

/// The tag that this person's second belongs to, or none.
const Tag* tag_of(const std::vector<Tag>& tags, const std::string& person, SessionTime at) {
  const Tag* best = nullptr;
  for (const Tag& tag : tags) {
    if (at < tag.begin || tag.end <= at) continue;
    if (tag.kind == TagKind::pause && (tag.people.empty() || names(tag, person))) return nullptr;
    if (tag.kind == TagKind::pause || !names(tag, person)) continue;
    const bool later = best == nullptr || tag.begin > best->begin;
    const bool shorter = best != nullptr && tag.begin == best->begin && tag.end < best->end;
    if (later || shorter) best = &tag;
  }
  return best;
}

Length& row_for(std::vector<HoursRow>& rows, const std::string& task, const std::string& person) {
  for (HoursRow& row : rows) {
    if (row.task == task && row.person == person) return row.worked;
  }
  rows.push_back({task, person, Length{0}});
  return rows.back().worked;
}

}  // namespace

std::vector<Tag> make_tags(const Scenario& scenario, const Story& story) {
  const std::string tova = builder_name;
  const std::string emil = helper_name;
  std::vector<Tag> tags;
  const auto work = [&](Seconds from, Seconds to, std::string_view task, std::vector<std::string> people,
                        std::string note, bool riveted = false) {
    const Seconds begin = scenario.scaled(from);
    const Seconds end = scenario.scaled(to);
    tags.push_back({whole_seconds(begin), whole_seconds(end), TagKind::work, std::string{task}, std::move(people),
                    riveted ? rivets_set(story, begin, end) : std::vector<FastenerCount>{}, std::move(note)});
  };
  const auto pause = [&](Seconds from, Seconds to, std::vector<std::string> people, std::string note) {
    tags.push_back({whole_seconds(scenario.scaled(from)),
                    whole_seconds(scenario.scaled(to)),
                    TagKind::pause,
                    "",
                    std::move(people),
                    {},
                    std::move(note)});
  };
  work(15, 165, "Pin the upper skin to the ribs", {tova}, "Every second hole, middle rib first");
  work(90, 165, "Drill the skin to final size", {tova}, "#40; burrs taken off by hand");
  work(165, 405, riveting_task, {tova, emil}, "Ribs 4, 3 and 5, \"slow\" trigger", true);
  pause(255, 270, {emil}, "Emil on the telephone");
  pause(405, 540, {}, "Tea");
  work(540, 705, riveting_task, {tova, emil}, "Towards the ends, one rib each side in turn", true);
  work(615, 660, "Deburr the trim tab brackets", {emil}, "At the vice while Tova drives alone");
  work(690, 810, "Check the formed heads", {tova}, "One head tipped: drilled out, new rivet set", true);
  work(795, 885, "Clean the skin", {tova, emil}, "");
  return tags;
}

std::vector<MarkedMoment> make_marks(const Scenario& scenario, const Story& story) {
  return {{milliseconds_of(story.rivets.front().set_at), "First rivet of the upper skin"},
          {milliseconds_of(story.drilled_out_at), "Tipped rivet drilled out"},
          {milliseconds_of(scenario.scaled(870)), "Outer holes wait for the short bucking bar"}};
}

HoursTruth count_hours(const std::vector<Tag>& tags) {
  SessionTime end{};
  std::vector<std::string> everybody;
  for (const Tag& tag : tags) {
    end = std::max(end, tag.end);
    for (const std::string& person : tag.people) {
      if (std::ranges::count(everybody, person) == 0) everybody.push_back(person);
    }
  }
  HoursTruth truth;
  for (SessionTime at{}; at < end; at += seconds{1}) {
    bool anybody = false;
    for (const std::string& person : everybody) {
      const Tag* const tag = tag_of(tags, person, at);
      if (tag == nullptr) continue;
      row_for(truth.rows, tag->task, person) += seconds{1};
      truth.person_time += seconds{1};
      anybody = true;
    }
    if (anybody) truth.elapsed += seconds{1};
  }
  return truth;
}

std::string to_text(const FastenerCount& count) {
  std::string text = count.callout + "=" + std::to_string(count.set);
  if (count.drilled > 0) text += "-" + std::to_string(count.drilled);
  return text;
}

std::string_view to_text(TagKind kind) { return kind == TagKind::work ? "work" : "break"; }

std::string to_csv(const std::vector<Tag>& tags) {
  std::string csv = "from,to,kind,task,people,fasteners,note\r\n";
  for (const Tag& tag : tags) {
    csv += to_short_clock_text(tag.begin.time_since_epoch()) + "," + to_short_clock_text(tag.end.time_since_epoch()) +
           "," + std::string{to_text(tag.kind)} + "," + quoted(tag.task) + "," +
           quoted(joined(tag.people, [](const std::string& person) { return person; })) + "," +
           quoted(joined(tag.fasteners, [](const FastenerCount& count) { return to_text(count); })) + "," +
           quoted(tag.note) + "\r\n";
  }
  return csv;
}

}  // namespace jigtime::demo
