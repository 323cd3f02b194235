#include "demo/truth.h"

#include <fstream>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "demo/microphone.h"
#include "demo/recording.h"
#include "demo/tags.h"

namespace jigtime::demo {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

double seconds_of(SessionTime time) { return to_seconds(time); }
std::int64_t whole_seconds_of(Length length) {
  return std::chrono::duration_cast<std::chrono::seconds>(length).count();
}

Json cameras_of(const Scenario& scenario) {
  Json cameras = Json::array();
  for (const CameraPlan& camera : scenario.cameras) {
    cameras.push_back({{"name", camera.name},
                       {"folder", camera.name},
                       {"rate_ppm", camera.rate_ppm},
                       {"sound_path_s", sound_path(camera, {0, 0, skin_height})}});
  }
  return cameras;
}

Json dropouts_of(const Recording& recording) {
  Json dropouts = Json::array();
  if (recording.loss_at_picture() >= 0) {
    dropouts.push_back(
        {{"at_s", recording.picture_time(recording.loss_at_picture())}, {"length_s", recording.lost_length()}});
  }
  return dropouts;
}

void add_files(Json& files, const Recording& recording, int clip) {
  const CameraPlan& camera = recording.camera();
  int part_number = 0;
  for (const PartPlan& part : recording.parts()) {
    const Seconds begin = recording.scene_of_picture(part.first_picture);
    files.push_back({{"camera", camera.name},
                     {"file", part.path.filename().string()},
                     {"path", (fs::path{camera.name} / part.path).generic_string()},
                     {"clip", clip},
                     {"part", ++part_number},
                     {"readable", recording.plan().ending == Ending::proper},
                     {"sound", recording.plan().sound == SoundTrack::recorded},
                     {"session_start_s", begin},
                     {"length_s", recording.picture_time(part.end_picture - part.first_picture)},
                     {"rate_ppm", camera.rate_ppm},
                     {"creation_time", jigtime::to_text(WallTime{
                                           std::chrono::floor<std::chrono::seconds>(recording.device_time(begin))})},
                     {"dropouts", dropouts_of(recording)}});
  }
}

Json files_of(const Scenario& scenario) {
  Json files = Json::array();
  int clip = 0;
  for (const RecordingPlan& plan : scenario.recordings) add_files(files, Recording{scenario, plan}, ++clip);
  return files;
}

Json tags_of(const std::vector<Tag>& tags) {
  Json list = Json::array();
  for (const Tag& tag : tags) {
    Json fasteners = Json::array();
    for (const FastenerCount& count : tag.fasteners) {
      fasteners.push_back({{"callout", count.callout}, {"set", count.set}, {"drilled", count.drilled}});
    }
    list.push_back({{"from_s", seconds_of(tag.begin)},
                    {"to_s", seconds_of(tag.end)},
                    {"kind", to_text(tag.kind)},
                    {"task", tag.task},
                    {"people", tag.people},
                    {"fasteners", fasteners},
                    {"note", tag.note}});
  }
  return list;
}

/// Every task once, all on the same assembly.
Json tasks_of(const std::vector<Tag>& tags) {
  Json tasks = Json::array();
  for (const Tag& tag : tags) {
    const Json task{{"title", tag.task}, {"assembly", assembly}};
    if (tag.kind == TagKind::work && std::find(tasks.begin(), tasks.end(), task) == tasks.end()) tasks.push_back(task);
  }
  return tasks;
}

void add_hours(Json& truth, const std::vector<Tag>& tags) {
  const HoursTruth hours = count_hours(tags);
  Json rows = Json::array();
  for (const HoursRow& row : hours.rows) {
    rows.push_back({{"task", row.task}, {"person", row.person}, {"seconds", whole_seconds_of(row.worked)}});
  }
  truth["hours"] = rows;
  truth["person_seconds"] = whole_seconds_of(hours.person_time);
  truth["elapsed_seconds"] = whole_seconds_of(hours.elapsed);
}

void add_moments(Json& truth, const Scenario& scenario, const Story& story) {
  truth["marks"] = Json::array();
  for (const MarkedMoment& mark : make_marks(scenario, story)) {
    truth["marks"].push_back({{"at_s", seconds_of(mark.at)}, {"note", mark.note}});
  }
  truth["bursts"] = Json::array();
  for (const Stretch& burst : story.lamp) truth["bursts"].push_back({{"begin_s", burst.begin}, {"end_s", burst.end}});
}

Done write_text(const fs::path& path, const std::string& text) {
  std::ofstream file{path, std::ios::binary};
  file << text;
  file.close();
  if (!file) return Error{Code::denied, path.string() + " cannot be written."};
  return {};
}

}  // namespace

Done write_truth(const Scenario& scenario, const Story& story, const fs::path& folder) {
  const std::vector<Tag> tags = make_tags(scenario, story);
  const std::chrono::year_month_day date{std::chrono::floor<std::chrono::days>(scenario.zero)};
  Json truth;
  truth["session"] = jigtime::to_text(date);
  truth["zone"] = "Europe/Lisbon";
  truth["build"] = "Marten, serial 7";
  truth["place"] = "Village workshop";
  truth["zero_utc"] = jigtime::to_text(scenario.zero);
  truth["length_s"] = scenario.length;
  truth["people"] = {{{"name", builder_name}, {"role", "builder"}}, {{"name", helper_name}, {"role", "helper"}}};
  truth["tasks"] = tasks_of(tags);
  truth["planned"] = {{{"task", riveting_task}, {"callout", callout}, {"count", hole_count}}};
  truth["cameras"] = cameras_of(scenario);
  truth["files"] = files_of(scenario);
  truth["tags"] = tags_of(tags);
  add_hours(truth, tags);
  add_moments(truth, scenario, story);
  if (const Done done = write_text(folder / "truth.json", truth.dump(1) + "\n"); !done) return done;
  return write_text(folder / "tags.csv", to_csv(tags));
}

}  // namespace jigtime::demo
