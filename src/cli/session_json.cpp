#include "cli/session_json.h"

#include <algorithm>

#include "actions/spoken.h"
#include "base/text.h"

namespace jigtime::cli {
namespace {

std::string base_name(const std::filesystem::path& path) { return shown(path.filename().string()); }

double ppm(std::int64_t ppb) { return static_cast<double>(ppb) / 1000.0; }

Json clip_json(const journal::Register& known, const journal::SessionRecord& record, const journal::Clip& clip) {
  Json json;
  const journal::Camera* camera = known.camera(clip.camera);
  json["camera"] = camera != nullptr ? camera->name : std::string{};
  json["parts"] = Json::array();
  for (const journal::Part& part : clip.parts) {
    json["parts"].push_back({{"file", base_name(part.path)}, {"clip_from_s", to_seconds(part.clip_from)}});
  }
  const journal::Placement* placement = record.placement(clip.id);
  json["basis"] = placement != nullptr ? to_text(placement->basis) : std::string_view{"none"};
  json["duration_s"] = to_seconds(clip.length);
  json["pieces"] = Json::array();
  json["evidence"] = Json::array();
  json["notes"] = Json::array();
  for (const std::string& note : clip.notes) json["notes"].push_back(shown(note));
  if (placement == nullptr) return json;
  for (const Piece& piece : placement->pieces) {
    json["pieces"].push_back({{"clip_from_s", to_seconds(piece.clip_from)},
                              {"clip_to_s", to_seconds(piece.clip_to)},
                              {"session_start_s", to_seconds(piece.session_start)},
                              {"rate_ppm", ppm(piece.rate_ppb)},
                              {"sigma_s", to_seconds(piece.sigma)}});
  }
  for (const journal::Evidence& evidence : placement->evidence) {
    const journal::Clip* with = record.clip(evidence.with);
    json["evidence"].push_back({{"with", with != nullptr ? shown(with->name()) : std::string{}},
                                {"overlap_s", to_seconds(evidence.overlap)},
                                {"score", static_cast<double>(evidence.score_milli) / 1000.0},
                                {"windows", evidence.windows},
                                {"agreed", evidence.agreed}});
  }
  for (const std::string& note : placement->notes) json["notes"].push_back(shown(note));
  return json;
}

std::string doubt_text(Length sigma) {
  const bool short_one = sigma < std::chrono::seconds{1};
  return "+-" + (short_one ? to_decimal_text(to_seconds(sigma) * 1000, 1) + " ms"
                           : to_decimal_text(to_seconds(sigma), 1) + " s");
}

void say_clip(Terminal& terminal, const journal::SessionRecord& record, const journal::Clip& clip) {
  std::string names = shown(clip.name());
  for (std::size_t i = 1; i < clip.parts.size(); ++i) names += " + " + base_name(clip.parts[i].path);
  const journal::Placement* placement = record.placement(clip.id);
  std::string line = "  " + names + "  ";
  if (placement == nullptr) {
    line += "not lined up yet, " + to_clock_text(clip.length) + " long";
  } else if (placement->pieces.empty()) {
    line += "has no place on the session clock";
  } else {
    line += to_clock_text(placement->pieces.front().session_start) + " to " +
            to_clock_text(placement->pieces.back().session_end()) + "  by " +
            (placement->basis == journal::Basis::audio    ? "sound"
             : placement->basis == journal::Basis::manual ? "hand"
                                                          : "clock") +
            " " + doubt_text(usual_sigma(placement->pieces));
  }
  terminal.say(line);
  for (const std::string& note : clip.notes) terminal.say("      " + shown(note));
  if (placement == nullptr) return;
  for (const std::string& note : placement->notes) terminal.say("      " + shown(note));
}

/// A clock that is off by more than a stamp's own doubt is worth setting.
void say_clock(Terminal& terminal, const journal::SessionRecord& record, const journal::Camera& camera) {
  for (const journal::CameraClock& clock : record.clocks) {
    if (clock.camera != camera.id || !clock.known || std::chrono::abs(clock.offset) < std::chrono::seconds{3}) continue;
    terminal.say("  Its clock was " + actions::spoken(std::chrono::abs(clock.offset)) +
                 (clock.offset > Length{0} ? " ahead of" : " behind") +
                 " the session's clock. Set it before you film again.");
  }
}

}  // namespace

Json line_up_json(const journal::Register& known, const journal::SessionRecord& record) {
  Json json;
  json["session"] = to_text(record.session.date);
  const journal::Camera* reference = record.session.reference ? known.camera(*record.session.reference) : nullptr;
  json["reference"] = reference != nullptr ? Json(reference->name) : Json(nullptr);
  json["zero"] = record.session.zero ? Json(to_text(*record.session.zero)) : Json(nullptr);
  json["zero_fixed"] = record.session.zero_fixed;
  json["clips"] = Json::array();
  for (const journal::Clip& clip : record.clips) json["clips"].push_back(clip_json(known, record, clip));
  json["cameras"] = Json::array();
  for (const journal::CameraClock& clock : record.clocks) {
    const journal::Camera* camera = known.camera(clock.camera);
    json["cameras"].push_back({{"name", camera != nullptr ? camera->name : std::string{}},
                               {"clock_offset_s", clock.known ? Json(to_seconds(clock.offset)) : Json(nullptr)},
                               {"rate_ppm", ppm(clock.rate_ppb)}});
  }
  json["unreadable"] = Json::array();
  for (const journal::Unreadable& file : record.unreadable) {
    json["unreadable"].push_back({{"file", base_name(file.path)}, {"why", shown(file.why)}});
  }
  return json;
}

void say_line_up(Terminal& terminal, const journal::Register& known, const journal::SessionRecord& record) {
  for (const journal::Camera& camera : known.cameras) {
    const bool ran = std::any_of(record.clips.begin(), record.clips.end(),
                                 [&](const auto& clip) { return clip.camera == camera.id; });
    if (!ran) continue;
    terminal.say(camera.name +
                 (record.session.reference == camera.id ? "  (the session clock follows this camera)" : ""));
    say_clock(terminal, record, camera);
    for (const journal::Clip& clip : record.clips) {
      if (clip.camera == camera.id) say_clip(terminal, record, clip);
    }
  }
  for (const journal::Unreadable& file : record.unreadable) {
    terminal.say("Could not be read: " + base_name(file.path) + "  " + shown(file.why));
  }
}

bool needs_builder(const journal::SessionRecord& record) {
  const bool unplaced = std::any_of(record.clips.begin(), record.clips.end(), [&](const journal::Clip& clip) {
    const journal::Placement* placement = record.placement(clip.id);
    return placement == nullptr || placement->pieces.empty();
  });
  return unplaced || !record.unreadable.empty();
}

}  // namespace jigtime::cli
