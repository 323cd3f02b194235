// What the builder would tag in this session, and the hours that follow from it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"
#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

enum class TagKind { work, pause };

struct FastenerCount {
  std::string callout;
  int set = 0;
  int drilled = 0;
};

struct Tag {
  SessionTime begin;
  SessionTime end;
  TagKind kind = TagKind::work;
  std::string task;                 ///< empty for a pause
  std::vector<std::string> people;  ///< a pause that names nobody is everybody's
  std::vector<FastenerCount> fasteners;
  std::string note;
};

struct MarkedMoment {
  SessionTime at;
  std::string note;
};

struct HoursRow {
  std::string task;
  std::string person;
  Length worked{0};
};

struct HoursTruth {
  std::vector<HoursRow> rows;  ///< by task, then person, in the order of first mention
  Length person_time{0};
  Length elapsed{0};
};

inline constexpr std::string_view assembly = "Tail / Elevator, left";
inline constexpr std::string_view callout = "MS20426AD3-3.5";
inline constexpr std::string_view riveting_task = "Rivet the upper skin";

/// In order of their beginning; all on whole seconds.
std::vector<Tag> make_tags(const Scenario& scenario, const Story& story);
std::vector<MarkedMoment> make_marks(const Scenario& scenario, const Story& story);

/// Counted here on its own, second by second of who did what, so that it can check the program's arithmetic: a
/// moment of a person belongs to the work tag that began last (the shorter on a tie), and to none during a pause of
/// that person.
HoursTruth count_hours(const std::vector<Tag>& tags);

/// RFC 4180 with the header from,to,kind,task,people,fasteners,note.
std::string to_csv(const std::vector<Tag>& tags);
std::string to_text(const FastenerCount& count);
std::string_view to_text(TagKind kind);

}  // namespace jigtime::demo
