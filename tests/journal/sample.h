// A session with every field filled in, for tests that look at each of them.
#pragma once

#include <string>

#include "base/text.h"
#include "journal/values.h"

namespace jigtime::test {

using namespace std::chrono_literals;  // NOLINT: tests read better so

inline SessionTime at(Length length) { return SessionTime{length}; }

inline journal::Build sample_build() {
  return {"Two-seat low wing", "X-TEST", "Shed 4", "Pacific/Chatham", journal::Rounding::tenth_hour, "amateur"};
}

/// Two people, two assemblies, two tasks, one planned line, two cameras.
inline journal::Register sample_register() {
  journal::Register known;
  known.people = {{{1}, "Ana", journal::Role::builder}, {{2}, "Bo", journal::Role::helper}};
  known.assemblies = {{{1}, std::nullopt, "Tail"}, {{2}, journal::AssemblyId{1}, "Elevator, left", "07"}};
  known.tasks = {{{1}, "Rivet the skin", journal::AssemblyId{2}, "07", "3a", std::nullopt, journal::ChecklistLineId{1}},
                 {{2}, "Dimple ribs", std::nullopt, "", "", journal::TaskId{1}}};
  known.planned = {{{1}, {1}, "MS20426AD3-4.5", 40}};
  known.cameras = {{{1}, "bench"}, {{2}, "overhead"}};
  known.checklists = {{{1},
                       "starter",
                       "Metal aircraft",
                       "Ours.",
                       false,
                       {{{1}, "E4", "Skins", "Empennage", true, {4, 1, 3, 2}},
                        {{2}, "E5", "Fabric covering", "Empennage", false, {}}}}};
  return known;
}

inline journal::Part sample_part(std::int64_t id, const std::string& name) {
  journal::Part part;
  part.id = {id};
  part.path = "/cards/one/" + name;
  part.identity.size_bytes = 4'294'967'295ULL + static_cast<std::uint64_t>(id);
  part.identity.digest.fill(static_cast<std::uint8_t>(id));
  part.length = 30min;
  part.clocks = {{ClockSource::container, ClockKind::utc, ClockEdge::begin, 1'773'475'200s, 1s, "2026-03-14 08:00:00"},
                 {ClockSource::name, ClockKind::local, ClockEdge::end, 1'773'525'600s, 2s, "140320262100"}};
  return part;
}

inline journal::Clip sample_clip(std::int64_t id, journal::CameraId camera) {
  journal::Clip clip;
  clip.id = {id};
  clip.session = {1};
  clip.camera = camera;
  clip.parts = {sample_part(10 * id, "a1.mp4"), sample_part(10 * id + 1, "a2.mp4")};
  clip.parts[1].clip_from = ClipTime{30min};
  clip.length = 1h;
  clip.sound = journal::Sound{"aac", 48'000, 2};
  clip.pictures = journal::Pictures{"h264", 1920, 1080, Length{33'366'667}};
  clip.notes = {"The second part begins 3 pictures late."};
  return clip;
}

inline journal::Placement sample_placement(journal::ClipId clip, journal::ClipId with) {
  journal::Placement placement;
  placement.clip = clip;
  placement.basis = journal::Basis::audio;
  placement.pieces = {{ClipTime{0s}, ClipTime{20min}, at(1s), 3'100, 400us},
                      {ClipTime{20min}, ClipTime{1h}, at(21min), -3'100, 500us}};
  placement.evidence = {{with, 30min, 14'200, 12, 11}};
  placement.notes = {"A dropout of 59.0 s inside the clip."};
  return placement;
}

/// SHA-256 of the word "still" (sha256sum of coreutils).
inline constexpr std::string_view still_bytes = "still";
inline const std::string still_digest = "94e8566ddfc123edf115fcbb35a16973409d95e05e3deb7dc4a15a7af325a885";

inline journal::Photo sample_photo() {
  journal::Photo photo;
  photo.id = {1};
  photo.session = {1};
  photo.path = "/photos/p1.jpg";
  photo.identity.size_bytes = 77;
  photo.identity.digest.fill(9);
  photo.camera = "pocket";
  photo.taken = ClockReading{ClockSource::container, ClockKind::local, ClockEdge::begin, 1'773'475'300s, 1s,
                             "2026:03:14 08:01:40"};
  photo.at = at(100s);
  photo.sigma = 2s;
  photo.note = "Low head.";
  return photo;
}

inline journal::SessionRecord sample_record() {
  using namespace journal;
  SessionRecord record;
  record.session = {
      {1}, std::chrono::year{2026} / 3 / 14, WallTime{1'773'475'200s + 5ns}, CameraId{1}, "Cold shed.", "Hangar 2",
      true};
  record.clips = {sample_clip(1, {1}), sample_clip(2, {2})};
  record.unreadable = {{{1}, {2}, "/cards/two/c3.mp4", "The file ends in the middle of its index."}};
  record.placements = {sample_placement({1}, {2}), sample_placement({2}, {1})};
  record.clocks = {{{1}, {1}, Length{0}, 0, true}, {{1}, {2}, -3600s, -4'200, true}};
  record.spans = {{{1},
                   {1},
                   SpanKind::work,
                   at(5min),
                   at(50min),
                   TaskId{1},
                   {{1}, {2}},
                   {{"MS20426AD3-4.5", Method::squeezed, 31, 1}, {"MS20470AD4-5", Method::driven, 4, 0}},
                   "Skin oil-cans."},
                  {{2}, {1}, SpanKind::pause, at(20min), at(25min), std::nullopt, {{2}}, {}, "Tea."}};
  record.marks = {{{1}, {1}, at(12min), "First rivet."}};
  record.ties = {{{1}, {1}, ClipTime{90s}, {2}, ClipTime{30s + 7ns}}};
  record.items = {{{1},
                   ItemKind::redo,
                   "Rib 4 again.",
                   std::chrono::year{2026} / 3 / 14,
                   SessionId{1},
                   at(12min),
                   MarkId{1},
                   TaskId{1},
                   ItemClosing{std::chrono::year{2026} / 3 / 14, SpanId{1}, SessionId{1}, "Done at once."}},
                  {{2}, ItemKind::part, "Hinge pin.", std::chrono::year{2026} / 3 / 14, SessionId{1}}};
  record.inspections = {{{1},
                         std::chrono::year{2026} / 3 / 14,
                         "R. Vane",
                         "TC 4711",
                         "Lower side before closing.",
                         "One low head.",
                         "closing",
                         SessionId{1},
                         at(40min),
                         std::chrono::year{2026} / 3 / 20}};
  record.photos = {sample_photo()};
  record.stills = {{{1}, {1}, at(12min), {1}, ClipId{1}, ClipTime{11min}, MarkId{1}, still_digest}};
  record.proposals = {{{1}, {1}, ProposalKind::riveting, at(6min), at(7min), 12, 870}};
  return record;
}

}  // namespace jigtime::test
