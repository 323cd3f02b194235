#include "actions/why_there.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "actions/spoken.h"
#include "base/text.h"
#include "report/day.h"

namespace jigtime::actions {
namespace {

using Sentences = std::vector<std::string>;

std::string camera_name(const journal::Register& known, journal::CameraId id) {
  const auto camera =
      std::find_if(known.cameras.begin(), known.cameras.end(), [&](const auto& c) { return c.id == id; });
  return camera == known.cameras.end() ? "a camera" : camera->name;
}

std::string clip_name(const journal::Register& known, const journal::SessionRecord& record, journal::ClipId id) {
  const auto clip = std::find_if(record.clips.begin(), record.clips.end(), [&](const auto& c) { return c.id == id; });
  return clip == record.clips.end() ? "another clip" : clip->name() + " of " + camera_name(known, clip->camera);
}

/// "0.4 ms", "12 ms", "1.3 s": as exact as an error deserves.
std::string error_words(Length sigma) {
  const double ms = to_seconds(sigma) * 1e3;
  if (ms < 9.95) return to_decimal_text(ms, 1) + " ms";
  if (ms < 999.5) return to_decimal_text(ms, 0) + " ms";
  return spoken(sigma);
}

void say_begin(const journal::Placement& placement, Sentences& to) {
  const Piece& first = placement.pieces.front();
  to.push_back("It begins at " + to_clock_text(first.to_session(ClipTime{})) + " on the session clock.");
}

void say_doubt(const journal::Clip& clip, const journal::Placement& placement, Sentences& to) {
  const Length sigma = report::told_sigma(clip, placement);
  to.push_back("It may be off by about " + error_words(sigma) + ", and hardly ever by more than " +
               error_words(2 * sigma) + ".");
}

void say_evidence(const journal::Register& known, const journal::SessionRecord& record,
                  const journal::Placement& placement, Sentences& to) {
  auto evidence = placement.evidence;
  std::stable_sort(evidence.begin(), evidence.end(),
                   [](const auto& a, const auto& b) { return a.score_milli > b.score_milli; });
  for (const journal::Evidence& one : evidence) {
    to.push_back(clip_name(known, record, one.with) + " heard the same sounds for " + spoken(one.overlap) + ": " +
                 std::to_string(one.agreed) + " of " + std::to_string(one.windows) +
                 " moments compared told this place each by itself, and all of them together stand " +
                 to_decimal_text(static_cast<double>(one.score_milli) / 1000, 0) + " times as high as chance does.");
  }
}

void say_rate(const journal::SessionRecord& record, const journal::Clip& clip, const journal::Placement& placement,
              Sentences& to) {
  if (record.session.reference == clip.camera) {
    to.push_back("The session clock runs as this camera's does; the others are measured against it.");
    return;
  }
  const double ppm = static_cast<double>(placement.pieces.front().rate_ppb) / 1000;
  if (std::abs(ppm) < 0.05) return;
  to.push_back("Its camera's clock runs " + to_decimal_text(std::abs(ppm), 1) + " millionths " +
               (ppm > 0 ? "slow" : "fast") + " against the session clock, " + to_decimal_text(std::abs(ppm) * 3.6, 0) +
               " ms an hour; that is allowed for.");
}

void say_basis(const journal::Register& known, const journal::SessionRecord& record, const journal::Clip& clip,
               const journal::Placement& placement, Sentences& to) {
  switch (placement.basis) {
    case journal::Basis::audio:
      say_begin(placement, to);
      to.push_back("Its place was heard, not guessed from a clock:");
      say_evidence(known, record, placement, to);
      say_doubt(clip, placement, to);
      say_rate(record, clip, placement, to);
      to.push_back(
          "What is lined up is the sound as it reached the cameras: it takes 10 ms for 3.4 m, less than a picture.");
      return;
    case journal::Basis::clock:
      say_begin(placement, to);
      to.push_back(
          "No sound could tell its place. Its camera's clock tells it, corrected by what the camera's other clips "
          "showed.");
      say_doubt(clip, placement, to);
      to.push_back("If you see a moment in it that another camera saw too, place it by hand.");
      return;
    case journal::Basis::manual:
      say_begin(placement, to);
      to.push_back(placement.tied
                       ? "You tied it to another clip at a moment that both show; that alone tells its place."
                       : "It was placed there by hand, and every line-up holds it.");
      return;
    case journal::Basis::none:
      to.emplace_back("It lies nowhere: neither its sound nor a clock tells where it belongs, and it is not guessed.");
      to.emplace_back("Place it by hand if you know its moment.");
      return;
  }
}

struct Found {
  journal::SessionId session;
  std::chrono::year_month_day date;
  journal::Clip clip;
};

Result<Found> find_clip(store::Store& store, const std::string& file, std::optional<journal::SessionId> wanted) {
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  std::vector<Found> found;
  Sentences names, days;
  for (const journal::Session& session : *sessions) {
    if (wanted && session.id != *wanted) continue;
    const auto record = store.record(session.id);
    if (!record) return record.error();
    for (const journal::Clip& clip : record->clips) {
      names.push_back(clip.name());
      const bool here = std::any_of(clip.parts.begin(), clip.parts.end(),
                                    [&](const journal::Part& part) { return part.path.filename() == file; });
      if (!here) continue;
      found.push_back({session.id, session.date, clip});
      days.push_back(to_text(session.date));
    }
  }
  if (found.size() == 1) return found.front();
  if (found.size() > 1) {
    return Error{Code::conflict, "There are several files named \"" + file + "\" (" + listed(days) +
                                     "). Say which day with --session, or place them apart by renaming."};
  }
  if (names.size() > 12) {
    names.resize(12);
    names.emplace_back("more");
  }
  return Error{Code::not_found,
               "There is no file \"" + file + "\". There is " + (names.empty() ? "no footage" : listed(names)) + "."};
}

}  // namespace

std::vector<std::string> why_there(const journal::Register& known, const journal::SessionRecord& record,
                                   const journal::Clip& clip) {
  Sentences sentences;
  const journal::Placement* placement = record.placement(clip.id);
  if (placement == nullptr) return {"It has not been lined up yet."};
  say_basis(known, record, clip, *placement, sentences);
  sentences.insert(sentences.end(), placement->notes.begin(), placement->notes.end());
  return sentences;
}

Result<WhyThere> why_there(store::Store& store, const std::string& file, std::optional<journal::SessionId> session) {
  const auto found = find_clip(store, file, session);
  if (!found) return found.error();
  const auto record = store.record(found->session);
  if (!record) return record.error();
  const auto known = store.known();
  if (!known) return known.error();
  WhyThere why{found->session, camera_name(*known, found->clip.camera), found->clip.name(), journal::Basis::none, {}};
  if (const journal::Placement* placement = record->placement(found->clip.id)) why.basis = placement->basis;
  why.sentences = why_there(*known, *record, found->clip);
  return why;
}

}  // namespace jigtime::actions
