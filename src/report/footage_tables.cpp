// The tables about cameras, clips and files.
#include <algorithm>

#include "base/text.h"
#include "journal/coverage.h"
#include "report/tables.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

std::string from_to(SessionRange range) {
  return to_short_clock_text(range.begin().time_since_epoch()) + " to " +
         to_short_clock_text(range.end().time_since_epoch());
}

std::string lines_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += (text.empty() ? "" : "\n") + line;
  return text;
}

std::string clips_of(const Dropout& dropout) {
  std::vector<std::string> names;
  for (const int number : dropout.clips) names.push_back("C" + std::to_string(number));
  return (dropout.kind == DropoutKind::inside_clip ? "inside " : "between ") + listed(names);
}

std::string clock_words(const std::optional<Length>& ahead) {
  if (!ahead) return "not known";
  if (*ahead == Length{0}) return "with the session clock";
  return length_words(std::max(*ahead, -*ahead)) + (*ahead > Length{0} ? " ahead" : " behind");
}

}  // namespace

Table unplaced_table(const Day& day) {
  Table table{"Clips that are not on the session clock",
              {{"File"}, {"Camera"}, {"Length", Align::numbers}, {"Why", Align::wide_words}},
              {},
              {},
              "Every clip that could be read has its place on the session clock."};
  if (day.cameras.empty()) table.when_empty = "There are no clips.";
  for (const UnplacedClip& clip : day.unplaced) {
    table.rows.push_back({lines_of(clip.files), clip.camera, length_words(clip.length), clip.why});
  }
  return table;
}

Table cameras_table(const Day& day) {
  Table table{"Cameras",
              {{"Camera"},
               {"Clips placed", Align::numbers},
               {"Recorded", Align::numbers},
               {"Dropouts", Align::numbers},
               {"Its clock against the session clock"}},
              {},
              {},
              "No camera has footage in this session."};
  for (const CameraLane& lane : day.cameras) {
    std::vector<SessionRange> pieces;
    for (const ClipBar& clip : lane.clips) pieces.insert(pieces.end(), clip.pieces.begin(), clip.pieces.end());
    Length lost{0};
    for (const Dropout& dropout : lane.dropouts) lost += dropout.range.length();
    std::string dropouts = std::to_string(lane.dropouts.size());
    if (!lane.dropouts.empty()) dropouts += ", " + length_words(lost);
    table.rows.push_back({lane.name + (lane.is_reference ? "\n(reference)" : ""), std::to_string(lane.clips.size()),
                          length_words(journal::Coverage{pieces}.total()), dropouts, clock_words(lane.clock_ahead)});
  }
  return table;
}

Table clips_table(const Day& day) {
  Table table{"Clips, numbered as in the drawing",
              {{"Clip", Align::times},
               {"Camera"},
               {"Files", Align::wide_words},
               {"Session time", Align::times},
               {"Placed"},
               {"Notes", Align::wide_words}},
              {},
              {},
              "No clip has a place on the session clock."};
  for (const CameraLane& lane : day.cameras) {
    for (const ClipBar& clip : lane.clips) {
      const SessionRange hull = *SessionRange::make(clip.begin(), clip.end());
      table.rows.push_back({"C" + std::to_string(clip.number), lane.name, lines_of(clip.files),
                            from_to(hull) + "\n(" + length_words(hull.length()) + ")",
                            std::string{basis_words(clip.basis)} + "\n" + sigma_words(clip.sigma),
                            lines_of(clip.notes)});
    }
  }
  return table;
}

Table dropouts_table(const Day& day) {
  Table table{"Dropouts: time between a camera's first and last picture that it did not record",
              {{"Session time", Align::times}, {"Camera"}, {"Length", Align::numbers}, {"Where"}},
              {},
              {},
              "No dropout: every camera recorded without a break from its first picture to its last."};
  for (const CameraLane& lane : day.cameras) {
    for (const Dropout& dropout : lane.dropouts) {
      const std::string about = dropout.doubt == Doubt::large ? "about " : "";
      table.rows.push_back(
          {from_to(dropout.range), lane.name, about + length_words(dropout.range.length()), clips_of(dropout)});
    }
  }
  if (day.cameras.empty()) table.when_empty = "No footage, so no dropouts.";
  return table;
}

Table unreadable_table(const Timeline& timeline) {
  Table table{"Files that could not be used",
              {{"File"}, {"Camera"}, {"Why", Align::wide_words}},
              {},
              {},
              "Every file could be read."};
  if (timeline.record.clips.empty()) table.when_empty = "No file was turned away.";
  for (const journal::Unreadable& file : timeline.record.unreadable) {
    const journal::Camera* camera = timeline.known.camera(file.camera);
    table.rows.push_back({one_line(file.path.filename().string()), camera == nullptr ? "–" : one_line(camera->name),
                          one_line(file.why)});
  }
  return table;
}

}  // namespace jigtime::report
