#include "journal/span_edits.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "journal/rule_text.h"

namespace jigtime::journal {
namespace {

std::string range_text(const Span& span) { return to_clock_text(span.begin) + " to " + to_clock_text(span.end); }

void add_up(std::vector<FastenerLine>& lines, const FastenerLine& line) {
  const auto same = std::find_if(lines.begin(), lines.end(), [&](const FastenerLine& there) {
    return there.callout == line.callout && there.method == line.method;
  });
  if (same == lines.end()) {
    lines.push_back(line);
    return;
  }
  same->set += line.set;
  same->drilled += line.drilled;
}

Done check_alike(const Span& first, const Span& second) {
  if (first.session != second.session)
    return invalid("The spans lie in different sessions. Join spans of one session.");
  if (first.kind != second.kind || first.off_camera != second.off_camera) {
    return invalid("One of the spans is a break or off-camera work and the other is not. They stay apart.");
  }
  if (first.task != second.task) return invalid("The spans are of different tasks. Give both the same task first.");
  if (std::set(first.people.begin(), first.people.end()) != std::set(second.people.begin(), second.people.end())) {
    return invalid("The spans name different people. Give both the same people first, so that nobody's hours change.");
  }
  const SessionTime gap_begin = std::min(first.end, second.end);
  const SessionTime gap_end = std::max(first.begin, second.begin);
  if (gap_end > gap_begin) {
    return invalid("Between the spans lie " + to_clock_text(gap_end - gap_begin) +
                   " that neither of them covers. Trim one to meet the other first.");
  }
  return {};
}

}  // namespace

Result<std::pair<Span, Span>> split(const Span& span, SessionTime at) {
  if (at <= span.begin || at >= span.end) {
    return invalid("A span can only be split inside itself: this one lasts from " + range_text(span) + ".");
  }
  Span second = copied(span, at, span.end);
  Span first = span;
  first.end = at;
  return std::pair{std::move(first), std::move(second)};
}

Result<Span> trimmed(const Span& span, std::optional<SessionTime> begin, std::optional<SessionTime> end) {
  Span result = span;
  result.begin = begin.value_or(span.begin);
  result.end = end.value_or(span.end);
  if (result.begin < result.end) return result;
  return invalid("Nothing of the span (" + range_text(span) + ") would be left. Delete it instead.");
}

Result<Span> joined(const Span& first, const Span& second) {
  if (first.id == second.id) return invalid("That is one and the same span. Name two.");
  if (Done alike = check_alike(first, second); !alike) return alike.error();
  Span result = first;
  result.begin = std::min(first.begin, second.begin);
  result.end = std::max(first.end, second.end);
  for (const FastenerLine& line : second.fasteners) add_up(result.fasteners, line);
  if (!second.note.empty()) result.note += (first.note.empty() ? "" : "\n") + second.note;
  return result;
}

Span copied(const Span& span, SessionTime begin, SessionTime end) {
  Span copy = span;
  copy.id = {};
  copy.begin = begin;
  copy.end = end;
  copy.fasteners.clear();
  copy.note.clear();
  return copy;
}

}  // namespace jigtime::journal
