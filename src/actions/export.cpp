#include "actions/export.h"

#include <algorithm>
#include <system_error>

#include "actions/rivets.h"
#include "actions/stills.h"
#include "actions/tally.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "report/report.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

/// A file to write, and a line that stands in everything we ever wrote under that name.
struct Sheet {
  std::string name;
  std::string text;
  std::string sign;
};

bool is_ours(const fs::path& path, std::string_view sign) {
  const auto there = read_whole(path);
  if (!there) return false;
  return std::search(there->begin(), there->end(), sign.begin(), sign.end(),
                     [](std::uint8_t a, char b) { return a == static_cast<std::uint8_t>(b); }) != there->end();
}

Done write_ours(const fs::path& path, const Sheet& sheet) {
  std::error_code ignored;
  if (fs::exists(path, ignored) && !is_ours(path, sheet.sign)) {
    return Error{Code::conflict,
                 "\"" + path.string() +
                     "\" is there already and was not written by Jigtime. Move it away, or export to another folder."};
  }
  return write_whole(path, sheet.text);
}

/// The picture of a mark that the journal itself keeps; empty where it keeps none.
std::vector<std::uint8_t> kept_still(const store::Store& store, const report::Timeline& timeline,
                                     const journal::Mark& mark) {
  for (const journal::Still& still : timeline.record.stills) {
    if (still.mark != mark.id || still.at != mark.at) continue;
    if (const auto bytes = store.still_bytes(still.id)) return {bytes->begin(), bytes->end()};
  }
  return {};
}

void add_stills(const store::Store& store, report::Timeline& timeline, Exported& exported, const Watch& watch) {
  const auto& marks = timeline.record.marks;
  for (std::size_t i = 0; i < marks.size() && !watch.stop.stop_requested(); ++i) {
    watch.tell(static_cast<double>(i) / static_cast<double>(marks.size()), "still at " + to_clock_text(marks[i].at));
    auto still = still_at(timeline.record, marks[i].at, watch.stop);
    if (still) {
      timeline.stills[marks[i].id] = std::move(*still);
    } else if (auto kept = kept_still(store, timeline, marks[i]); !kept.empty()) {
      timeline.stills[marks[i].id] = std::move(kept);
    } else {
      exported.notes.push_back("No still for the mark at " + to_clock_text(marks[i].at) + ": " +
                               still.error().message());
    }
  }
}

}  // namespace

Result<Exported> export_session(const store::Store& store, journal::SessionId id, const fs::path& folder,
                                const Watch& watch) {
  report::Timeline timeline;
  auto build = store.build();
  if (!build) return build.error();
  auto known = store.known();
  if (!known) return known.error();
  auto record = store.record(id);
  if (!record) return record.error();
  timeline.build = std::move(*build);
  timeline.known = std::move(*known);
  timeline.record = std::move(*record);
  timeline.hours = journal::count_hours(timeline.record);
  auto rivets = tally_rivets(store);
  if (!rivets) return rivets.error();
  for (const RivetTable::Line& line : rivets->lines) timeline.build_balance.push_back(line.balance);

  Exported exported;
  add_stills(store, timeline, exported, watch);
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The export was stopped. No file was written."};

  std::error_code failure;
  fs::create_directories(folder, failure);
  if (failure) {
    return Error{Code::denied, "The folder \"" + folder.string() + "\" could not be made (" + failure.message() +
                                   "). Choose another one."};
  }
  const std::string hours =
      report::hours_csv({timeline.record.session}, timeline.known, timeline.hours, timeline.build.rounding);
  const std::vector<Sheet> sheets{{"timeline.html", report::to_html(timeline), "name=\"generator\" content=\"Jigtime"},
                                  {"hours.csv", hours, hours.substr(0, hours.find('\r'))}};
  for (const Sheet& sheet : sheets) {
    if (const Done written = write_ours(folder / sheet.name, sheet); !written) return written.error();
    exported.files.push_back(folder / sheet.name);
  }
  return exported;
}

}  // namespace jigtime::actions
