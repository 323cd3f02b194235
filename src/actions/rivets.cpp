#include "actions/rivets.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "actions/shop.h"
#include "actions/tally.h"
#include "base/text.h"
#include "handbook/blind_sizes.h"
#include "handbook/callout.h"
#include "handbook/length.h"

namespace jigtime::actions {
namespace {

using Balances = std::vector<journal::FastenerBalance>;

std::string title_of(const journal::Register& known, journal::TaskId id) {
  const journal::Task* task = known.task(id);
  return task == nullptr ? std::string{} : task->title;
}

/// Two lengths of one diameter and head are easily mixed up at the bench (common practice, no source).
void warn_of_two_lengths(const journal::Register& known, const Balances& rows, std::vector<std::string>& warnings) {
  struct Met {
    std::vector<std::string> callouts;
    std::set<int> lengths;
  };
  std::map<std::tuple<std::string, handbook::HeadStyle, int>, Met> met;
  for (const journal::FastenerBalance& row : rows) {
    const auto callout = handbook::parse_callout(row.callout);
    if (!callout || callout->kind != handbook::FastenerKind::solid) continue;
    Met& here = met[{title_of(known, row.task), callout->head, callout->diameter_32nds}];
    here.callouts.push_back(row.callout);
    here.lengths.insert(callout->length_32nds);
  }
  for (const auto& [key, here] : met) {
    if (here.lengths.size() < 2) continue;
    warnings.push_back("\"" + std::get<0>(key) + "\" takes " + listed(here.callouts) +
                       ": same head and diameter, different lengths. Set the exceptions first, so that none is missed "
                       "(common practice).");
  }
}

void warn_of_plan(const journal::Register& known, const Balances& rows, std::vector<std::string>& warnings) {
  std::set<journal::TaskId> planned;
  for (const journal::FastenerBalance& row : rows) {
    if (row.planned > 0) planned.insert(row.task);
  }
  for (const journal::FastenerBalance& row : rows) {
    if (!planned.contains(row.task) || row.over() == 0) continue;
    const std::string start = "\"" + title_of(known, row.task) + "\": ";
    if (row.planned == 0) {
      warnings.push_back(start + row.callout +
                         " was set and is not in the plan of this task. Look at the drawing; then "
                         "correct the span that set it, or the plan (jigtime task).");
    } else {
      warnings.push_back(start + std::to_string(row.over()) + " more of " + row.callout +
                         " were set than are planned. Count again; then correct the span, or the plan (jigtime task).");
    }
  }
}

/// Nothing when some published rule is content, or none has a say.
Result<std::optional<std::string>> misfit(const handbook::Callout& callout, double grip_in) {
  const std::string grip = to_decimal_text(grip_in, 3) + " in";
  if (callout.kind == handbook::FastenerKind::blind) {
    const handbook::BlindSize* size = handbook::find_blind_size(callout.diameter_32nds, callout.grip_16ths);
    const double mils = grip_in * 1000;
    if (size == nullptr || (mils >= size->grip_min_mil && mils <= size->grip_max_mil))
      return std::optional<std::string>{};
    return std::optional{"has a grip range of " + to_decimal_text(size->grip_min_mil / 1000.0, 3) + " to " +
                         to_decimal_text(size->grip_max_mil / 1000.0, 3) +
                         " in in the one printed table at hand, and the "
                         "stated grip is " +
                         grip};
  }
  const auto lengths = handbook::lengths_for_grip(grip_in, callout.diameter_32nds);
  if (!lengths) return lengths.error();
  std::set<std::string> candidates;
  for (const handbook::LengthCandidate& candidate : lengths->candidates) {
    if (candidate.length_32nds == callout.length_32nds) return std::optional<std::string>{};
    candidates.insert("-" + std::to_string(candidate.length_32nds / 2) + (candidate.length_32nds % 2 == 0 ? "" : ".5"));
  }
  const std::vector<std::string> words{candidates.begin(), candidates.end()};
  return std::optional{"is not the length that any published rule gives for a grip of " + grip + " (" + listed(words) +
                       ")"};
}

/// By task, the last one said holds.
Result<std::map<journal::TaskId, int>> grips_by_task(const journal::Register& known,
                                                     const std::vector<StatedGrip>& grips) {
  std::map<journal::TaskId, int> by_task;
  for (const StatedGrip& stated : grips) {
    const journal::Task* task = known.task(stated.task);
    if (task == nullptr) return Error{Code::not_found, "There is no task \"" + to_utf8(stated.task) + "\"."};
    by_task[known.meant(task->id)] = stated.grip_uin;
  }
  return by_task;
}

Done warn_of_grips(const journal::Register& known, const Balances& rows, const std::vector<StatedGrip>& grips,
                   std::vector<std::string>& warnings) {
  const auto stated = grips_by_task(known, grips);
  if (!stated) return stated.error();
  for (const journal::FastenerBalance& row : rows) {
    const auto said_now = stated->find(row.task);
    const std::optional<int> grip = said_now != stated->end() ? std::optional{said_now->second} : row.grip_uin;
    const auto callout = handbook::parse_callout(row.callout);
    if (!grip || !callout) continue;
    const auto odd = misfit(*callout, *grip / 1e6);
    if (!odd) return odd.error();
    if (!*odd) continue;
    warnings.push_back("\"" + title_of(known, row.task) + "\": " + row.callout + " " + **odd +
                       ". Measure the stack and look at the plans again: they decide.");
  }
  return {};
}

std::vector<RivetTable::Line> lines_of(const journal::Register& known, const std::vector<journal::Span>& spans,
                                       const Balances& rows, RivetsBy by) {
  std::vector<RivetTable::Line> lines;
  if (by == RivetsBy::location) {
    for (journal::LocationBalance& row : journal::balance_by_location(known, spans)) {
      lines.push_back({{}, known.assembly_path(row.assembly), std::move(row.balance)});
    }
    return lines;
  }
  for (const journal::FastenerBalance& row : rows) {
    const journal::Task* task = known.task(row.task);
    lines.push_back({title_of(known, row.task), task == nullptr ? "" : known.assembly_path(task->assembly), row});
  }
  return lines;
}

}  // namespace

Result<RivetTable> tally_rivets(const store::Store& store, const RivetsAsked& asked) {
  const auto known = store.known();
  if (!known) return known.error();
  const auto records = records_between(store, std::nullopt, std::nullopt);
  if (!records) return records.error();
  std::vector<journal::Span> spans;
  for (const journal::SessionRecord& record : *records) {
    spans.insert(spans.end(), record.spans.begin(), record.spans.end());
  }
  const Balances rows = journal::balance(*known, spans);
  RivetTable table{lines_of(*known, spans, rows, asked.by), {}};
  warn_of_two_lengths(*known, rows, table.warnings);
  warn_of_plan(*known, rows, table.warnings);
  if (const Done grips = warn_of_grips(*known, rows, asked.grips, table.warnings); !grips) return grips.error();
  return table;
}

Result<StatedGrip> parse_stated_grip(const std::string& text) {
  const std::size_t at = text.rfind('=');
  StatedGrip grip;
  if (at != std::string::npos) {
    grip.task = trimmed(std::string_view{text}.substr(0, at));
    const auto read = parse_grip(std::string_view{text}.substr(at + 1));
    if (read && !grip.task.empty()) {
      grip.grip_uin = *read;
      return grip;
    }
  }
  return Error{Code::invalid, "\"" + to_utf8(text) +
                                  "\" is not of the form TASK=INCHES with a whole stack above 0 and at most 4 in, for "
                                  "example \"Rivet skin=0.064\"."};
}

}  // namespace jigtime::actions
