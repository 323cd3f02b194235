#include "demo/card.h"

#include <cstdio>
#include <fstream>

#include "demo/microphone.h"
#include "demo/recording.h"
#include "demo/view.h"
#include "media/writer.h"

namespace jigtime::demo {
namespace {

namespace fs = std::filesystem;

media::WriterSettings settings_for(const Recording& recording, const PartPlan& part) {
  const CameraPlan& camera = recording.camera();
  media::WriterSettings settings;
  settings.container = camera.container;
  media::WriterSettings::Pictures& pictures = settings.pictures.emplace();
  pictures.codec = camera.picture_codec;
  pictures.width = camera.width;
  pictures.height = camera.height;
  pictures.rate_num = camera.rate_num;
  pictures.rate_den = camera.rate_den;
  pictures.bits_per_second = camera.picture_bits_per_second;
  pictures.key_every = camera.rate_num / camera.rate_den;
  if (recording.plan().sound == SoundTrack::recorded) {
    media::WriterSettings::Sound& sound = settings.sound.emplace();
    sound.codec = camera.sound_codec;
    sound.sample_rate_hz = camera.sample_rate_hz;
    sound.channels = camera.channels;
    sound.bits_per_second = camera.sound_bits_per_second;
  }
  const WallTime begin = recording.device_time(recording.scene_of_picture(part.first_picture));
  settings.creation_time = std::chrono::floor<std::chrono::seconds>(begin);
  return settings;
}

/// Cards keep file times in steps of two seconds.
Done set_file_time(const fs::path& path, WallTime time) {
  using Steps = std::chrono::duration<std::int64_t, std::ratio<2>>;
  std::error_code failed;
  const auto rounded = std::chrono::time_point_cast<std::chrono::seconds>(std::chrono::floor<Steps>(time));
  fs::last_write_time(path, std::chrono::file_clock::from_sys(rounded), failed);
  if (failed) return Error{Code::denied, "The time of " + path.string() + " cannot be set: " + failed.message()};
  return {};
}

/// Runs through one recording and writes its parts.
class Take {
 public:
  Take(const Scenario& scenario, const Story& story, const Recording& recording)
      : recording_{recording},
        view_{scenario, recording.camera(), story},
        microphone_{recording.camera(), story, static_cast<std::uint64_t>(recording.plan().first_number)},
        has_sound_{recording.plan().sound == SoundTrack::recorded} {}

  Done write(const PartPlan& part, const fs::path& path);

 private:
  Done write_sound(media::Writer& writer, std::int64_t until);
  Done run_past_the_end(media::Writer& writer);
  void hear(std::int64_t until);

  const Recording& recording_;
  View view_;
  Microphone microphone_;
  bool has_sound_;
  std::int64_t heard_ = 0;     ///< samples of the recording heard so far
  std::vector<float> unsent_;  ///< heard, but not yet written to the present part
};

void Take::hear(std::int64_t until) {
  while (heard_ < until) {
    const std::int64_t loss = recording_.loss_at_picture();
    std::int64_t stop = until;
    if (loss >= 0 && heard_ < recording_.sample_at_picture(loss)) {
      stop = std::min(stop, recording_.sample_at_picture(loss));
    }
    const std::size_t before = unsent_.size();
    unsent_.resize(before + static_cast<std::size_t>(stop - heard_));
    microphone_.hear(recording_.scene_of_sample(heard_), recording_.sample_step(), std::span{unsent_}.subspan(before));
    heard_ = stop;
  }
}

Done Take::write_sound(media::Writer& writer, std::int64_t until) {
  if (!has_sound_) return {};
  hear(until);
  const Done done = writer.write(unsent_);
  unsent_.clear();
  return done;
}

/// A part's sound is written in whole packets and so lasts a little longer than its pictures; the next part begins with
/// the same instants again.
Done Take::run_past_the_end(media::Writer& writer) {
  constexpr std::int64_t longest_packet = 1024;
  if (!has_sound_) return {};
  hear(heard_ + longest_packet);
  return writer.write(unsent_);
}

Done Take::write(const PartPlan& part, const fs::path& path) {
  Result<media::Writer> writer = media::Writer::open(path, settings_for(recording_, part));
  if (!writer) return writer.error();
  for (std::int64_t picture = part.first_picture; picture < part.end_picture; ++picture) {
    if (const Done done = writer->write(view_.at(recording_.scene_of_picture(picture))); !done) return done;
    if (const Done done = write_sound(*writer, recording_.sample_at_picture(picture + 1)); !done) return done;
  }
  if (part.end_picture != recording_.parts().back().end_picture) {
    if (const Done done = run_past_the_end(*writer); !done) return done;
  }
  if (recording_.plan().ending == Ending::cut_off) return {};  // the index is never written
  return writer->finish();
}

}  // namespace

Done write_recording(const Scenario& scenario, const Story& story, const RecordingPlan& plan, const fs::path& folder) {
  const Recording recording{scenario, plan};
  Take take{scenario, story, recording};
  for (const PartPlan& part : recording.parts()) {
    const fs::path path = folder / part.path;
    std::error_code failed;
    fs::create_directories(path.parent_path(), failed);
    if (failed) {
      return Error{Code::denied, "The folder " + path.parent_path().string() + " cannot be made: " + failed.message()};
    }
    if (const Done done = take.write(part, path); !done) return done.error().during("writing " + path.string());
    const WallTime end = recording.device_time(recording.scene_of_picture(part.end_picture));
    if (const Done done = set_file_time(path, end); !done) return done;
    std::fprintf(stderr, "%s: %s, %.0f s\n", recording.camera().name.c_str(), path.filename().c_str(),
                 recording.picture_time(part.end_picture - part.first_picture));
  }
  return {};
}

Done write_index(const CameraPlan& camera, const fs::path& folder) {
  const fs::path path = folder / (camera.container == "mov" ? "CLIPS/INDEX.LST" : "MISC/CARD.TXT");
  std::error_code failed;
  fs::create_directories(path.parent_path(), failed);
  std::ofstream file{path};
  file << "card of the " << camera.name << " camera\nformat 3\ncounter in use\n";
  file.close();
  if (!file) return Error{Code::denied, path.string() + " cannot be written."};
  return {};
}

}  // namespace jigtime::demo
