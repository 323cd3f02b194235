#include "actions/export.h"

#include "actions/out_folder.h"
#include "actions/rivets.h"
#include "actions/stills.h"
#include "base/text.h"
#include "report/formats.h"
#include "report/timeline_document.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

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

Result<report::Timeline> timeline_of(const store::Store& store, journal::SessionId id, WallTime now) {
  auto build = store.build();
  if (!build) return build.error();
  auto known = store.known();
  if (!known) return known.error();
  auto record = store.record(id);
  if (!record) return record.error();
  auto rivets = tally_rivets(store);
  if (!rivets) return rivets.error();
  report::Timeline timeline;
  timeline.build = *std::move(build);
  timeline.known = *std::move(known);
  timeline.record = *std::move(record);
  timeline.hours = journal::count_hours(timeline.record);
  for (const RivetTable::Line& line : rivets->lines) timeline.build_balance.push_back(line.balance);
  timeline.made = now;
  return timeline;
}

constexpr std::string_view about =
    "What is in this folder: one session of the building of an aircraft, as the builder's journal has it.\n\n"
    "timeline.html            the session to read, in any browser, without a network\n"
    "timeline.pdf             the same, to print\n"
    "timeline.svg             the drawing by itself\n"
    "hours.csv                hours by task and person\n"
    "spans.csv                what was done when, by whom (jigtime tags --read takes it)\n"
    "fasteners.csv            fasteners set and planned\n"
    "session.json             the whole record; session.schema.json says what each field means\n"
    "chapters/                what was done when, for each camera's files (WebVTT)\n"
    "film.ffmetadata          the same as chapters of a film of the whole session\n"
    "timeline.otio            the cameras' clips in line, for editors that read OpenTimelineIO\n"
    "session.ics              the session for a calendar\n"
    "jigtime-export.sha256    the files' digests\n\n"
    "Records of the builder. They approve nothing: findings are the authority's.\n";

Result<OutFolder> folder_of(const report::Timeline& timeline) {
  auto pdf = report::timeline_pdf(timeline);
  if (!pdf) return pdf.error().during("drawing timeline.pdf");
  auto svg = report::timeline_svg(timeline);
  if (!svg) return svg.error().during("drawing timeline.svg");
  const std::string date = to_text(timeline.record.session.date);
  const std::string title = to_utf8(timeline.build.name) + ", " + date;
  OutFolder out{date + ", " + to_utf8(timeline.build.name), {}};
  out.files = {
      {"about.txt", std::string{about}},
      {"timeline.html", report::to_html(timeline)},
      {"timeline.pdf", *std::move(pdf)},
      {"timeline.svg", *std::move(svg)},
      {"hours.csv",
       report::hours_csv({timeline.record.session}, timeline.known, timeline.hours, timeline.build.rounding)},
      {"spans.csv", report::spans_csv(timeline)},
      {"fasteners.csv", report::fasteners_csv(timeline)},
      {"session.json", report::session_json(timeline)},
      {"session.schema.json", std::string{report::session_schema()}},
      {"timeline.otio", report::to_otio(timeline)},
      {"session.ics", report::to_ics(timeline)},
  };
  for (const report::FileChapters& file : report::chapters_of_files(timeline)) {
    out.files.push_back({"chapters/" + file.safe_name + ".vtt", report::to_vtt(file)});
  }
  if (const auto filmed = report::filmed_range(timeline)) {
    out.files.push_back(
        {"film.ffmetadata", report::to_ffmetadata(title, report::film_chapters(timeline, *filmed, 1.0))});
  }
  return out;
}

}  // namespace

Result<Exported> export_session(const store::Store& store, journal::SessionId id, const fs::path& folder, WallTime now,
                                const Watch& watch) {
  auto timeline = timeline_of(store, id, now);
  if (!timeline) return timeline.error();
  Exported exported;
  add_stills(store, *timeline, exported, watch);
  if (watch.stop.stop_requested()) return Error{Code::cancelled, "The export was stopped. No file was written."};
  const auto out = folder_of(*timeline);
  if (!out) return out.error();
  auto written = write_folder(folder, *out);
  if (!written) return written.error();
  exported.files = std::move(written->files);
  exported.notes.insert(exported.notes.end(), written->notes.begin(), written->notes.end());
  return exported;
}

}  // namespace jigtime::actions
