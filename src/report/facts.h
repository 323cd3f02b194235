// What stands at the head of the page: facts of the session, and what the reader should know before relying on it.
// Must never know: HTML.
// Begin reading at: facts_of.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/day.h"

namespace jigtime::report {

/// Sentences of ours run from left to right whoever is named in them; the builder's own run as their script does.
enum class Whose { ours, builders };

struct Fact {
  std::string name;
  std::string value;
  Whose words{Whose::ours};  ///< those of the value
};

/// Build, place, clock, seal ...
std::vector<Fact> facts_of(const Timeline& timeline, const Day& day);

/// Person-hours, elapsed, unfilmed and untagged time, each with what it means.
std::vector<Fact> times_of(const Timeline& timeline);

/// Whole sentences; empty when there is nothing to say.
std::vector<std::string> attention_of(const Timeline& timeline, const Day& day);

/// What a session's page is and is not, and how its figures came about: paragraphs.
std::vector<std::string_view> page_notice();

}  // namespace jigtime::report
