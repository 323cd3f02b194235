// The record as plain values: what a journal holds, nothing about where it is kept.
// Must never know: files, SQLite, libav, threads, the time of day.
// Begin reading at: Session, Clip, Placement, Span.
#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock_reading.h"
#include "base/file_identity.h"
#include "base/id.h"
#include "base/piece.h"
#include "base/time.h"

namespace jigtime::journal {

using PersonId = Id<struct PersonTag>;
using AssemblyId = Id<struct AssemblyTag>;
using TaskId = Id<struct TaskTag>;
using PlannedId = Id<struct PlannedTag>;
using SessionId = Id<struct SessionTag_>;
using CameraId = Id<struct CameraTag>;
using ClipId = Id<struct ClipTag_>;
using PartId = Id<struct PartTag>;
using SpanId = Id<struct SpanTag>;
using MarkId = Id<struct MarkTag>;
using ProposalId = Id<struct ProposalTag>;
using EntryId = Id<struct EntryTag>;

/// How hours are rounded when shown. Sums are always kept in nanoseconds.
enum class Rounding { none, minute, tenth_hour, quarter_hour };

struct Build {
  std::string name;
  std::string registration;
  std::string place;
  std::string zone;  ///< IANA name, e.g. Europe/Lisbon
  Rounding rounding = Rounding::none;
  friend bool operator==(const Build&, const Build&) = default;
};

enum class Role { builder, helper, hired, supplier };

struct Person {
  PersonId id;
  std::string name;  ///< unique within the journal
  Role role = Role::builder;
  friend bool operator==(const Person&, const Person&) = default;
};

struct Assembly {
  AssemblyId id;
  std::optional<AssemblyId> parent;
  std::string name;  ///< unique among its siblings
  friend bool operator==(const Assembly&, const Assembly&) = default;
};

struct Task {
  TaskId id;
  std::string title;  ///< unique within the journal
  std::optional<AssemblyId> assembly;
  std::string plan_sheet;
  std::string plan_step;
  friend bool operator==(const Task&, const Task&) = default;
};

/// What the drawing asks for: so many of one call-out in one task.
struct PlannedFastener {
  PlannedId id;
  TaskId task;
  std::string callout;  ///< in canonical spelling
  int count = 0;        ///< at least 1
  friend bool operator==(const PlannedFastener&, const PlannedFastener&) = default;
};

struct Session {
  SessionId id;
  std::chrono::year_month_day date;   ///< unique within the journal
  std::optional<WallTime> zero;       ///< wall time of session time zero, once a clock has told it
  std::optional<CameraId> reference;  ///< the camera whose clock rate the session clock follows
  std::string note;
  friend bool operator==(const Session&, const Session&) = default;
};

struct Camera {
  CameraId id;
  std::string name;  ///< unique within the journal
  friend bool operator==(const Camera&, const Camera&) = default;
};

/// One file of a recording.
struct Part {
  PartId id;
  std::filesystem::path path;
  FileIdentity identity;
  ClipTime clip_from;  ///< clip time of this part's own first picture
  Length length{0};    ///< of its pictures (of its sound where there are none)
  std::vector<ClockReading> clocks;
  friend bool operator==(const Part&, const Part&) = default;
};

struct Sound {
  std::string codec;
  int sample_rate_hz = 0;
  int channels = 0;
  friend bool operator==(const Sound&, const Sound&) = default;
};

struct Pictures {
  std::string codec;
  int width = 0;
  int height = 0;
  Length picture_length{0};  ///< nominal, for stepping and for dropout limits
  friend bool operator==(const Pictures&, const Pictures&) = default;
};

/// A recording as the user sees it: its parts in order, without a break between them.
struct Clip {
  ClipId id;
  SessionId session;
  CameraId camera;
  std::vector<Part> parts;  ///< at least one
  Length length{0};
  std::optional<Sound> sound;
  std::optional<Pictures> pictures;
  std::vector<std::string> notes;  ///< what import wants the builder to know, whole sentences

  /// The first part's file name; what the builder calls the clip.
  std::string name() const { return parts.empty() ? std::string{} : parts.front().path.filename().string(); }

  friend bool operator==(const Clip&, const Clip&) = default;
};

/// A file that could not be used, with what the builder can do.
struct Unreadable {
  SessionId session;
  CameraId camera;
  std::filesystem::path path;
  std::string why;
  friend bool operator==(const Unreadable&, const Unreadable&) = default;
};

enum class Basis { audio, clock, manual, none };

struct Evidence {
  ClipId with;
  Length overlap{0};
  std::int64_t score_milli = 0;  ///< robust z of the coarse peak, thousandths
  int windows = 0;               ///< fine windows tried
  int agreed = 0;                ///< of those, how many lay on one line
  friend bool operator==(const Evidence&, const Evidence&) = default;
};

struct Placement {
  ClipId clip;
  Basis basis = Basis::none;
  std::vector<Piece> pieces;  ///< in clip order, not overlapping; empty exactly when basis is none
  std::vector<Evidence> evidence;
  std::vector<std::string> notes;  ///< whole sentences for the builder
  friend bool operator==(const Placement&, const Placement&) = default;
};

/// What the line-up found out about one camera's clock in one session.
struct CameraClock {
  SessionId session;
  CameraId camera;
  Length offset{0};           ///< device clock minus the session's clock; of the last stretch if it was reset
  std::int64_t rate_ppb = 0;  ///< of the session clock against this camera's
  bool known = false;         ///< false: nothing to compare with, offset means nothing
  friend bool operator==(const CameraClock&, const CameraClock&) = default;
};

enum class Method { driven, squeezed, pulled, other };

struct FastenerLine {
  std::string callout;  ///< canonical spelling
  Method method = Method::driven;
  int set = 0;
  int drilled = 0;  ///< set, then drilled out again; already counted in `set`
  friend bool operator==(const FastenerLine&, const FastenerLine&) = default;
};

enum class SpanKind { work, pause };

struct Span {
  SpanId id;
  SessionId session;
  SpanKind kind = SpanKind::work;
  SessionTime begin;
  SessionTime end;
  std::optional<TaskId> task;    ///< required for work
  std::vector<PersonId> people;  ///< a pause with none is everybody's
  std::vector<FastenerLine> fasteners;
  std::string note;
  friend bool operator==(const Span&, const Span&) = default;
};

struct Mark {
  MarkId id;
  SessionId session;
  SessionTime at;
  std::string note;
  friend bool operator==(const Mark&, const Mark&) = default;
};

enum class ProposalKind { riveting, pause, signal };

/// Something detected; counts for nothing until the builder accepts it.
struct Proposal {
  ProposalId id;
  SessionId session;
  ProposalKind kind = ProposalKind::riveting;
  SessionTime begin;
  SessionTime end;
  int count = 0;                ///< bursts, signals
  int confidence_permille = 0;  ///< 0 to 1000
  friend bool operator==(const Proposal&, const Proposal&) = default;
};

/// A sealed session. Immutable.
struct Entry {
  EntryId id;
  SessionId session;
  int number = 0;  ///< 1, 2, 3 ... in order of sealing
  WallTime sealed_at;
  std::string text;      ///< canonical, see seal.h
  std::string previous;  ///< hex digest of entry number - 1; 64 zeros for the first
  std::string digest;    ///< hex SHA-256 over previous and text
  friend bool operator==(const Entry&, const Entry&) = default;
};

/// People, assemblies, tasks and what is planned: shared by all sessions.
struct Register {
  std::vector<Person> people;
  std::vector<Assembly> assemblies;
  std::vector<Task> tasks;
  std::vector<PlannedFastener> planned;
  std::vector<Camera> cameras;

  const Person* person(PersonId id) const;
  const Person* person(std::string_view name) const;
  const Assembly* assembly(AssemblyId id) const;
  const Task* task(TaskId id) const;
  const Task* task(std::string_view title) const;
  const Camera* camera(CameraId id) const;
  const Camera* camera(std::string_view name) const;
  /// "Tail / Elevator, left"; empty for nothing.
  std::string assembly_path(std::optional<AssemblyId> id) const;
  /// The assembly with that path ("Tail / Elevator, left" or "Tail/Elevator, left"), or with that name if only one has
  /// it.
  const Assembly* assembly(std::string_view path) const;

  friend bool operator==(const Register&, const Register&) = default;
};

/// One session with all that hangs on it. Vectors are ordered: clips by camera then first part, spans and marks by
/// time.
struct SessionRecord {
  Session session;
  std::vector<Clip> clips;
  std::vector<Unreadable> unreadable;
  std::vector<Placement> placements;  ///< at most one a clip
  std::vector<CameraClock> clocks;
  std::vector<Span> spans;
  std::vector<Mark> marks;
  std::vector<Proposal> proposals;
  std::optional<Entry> entry;  ///< set once sealed

  const Clip* clip(ClipId id) const;
  const Placement* placement(ClipId id) const;

  friend bool operator==(const SessionRecord&, const SessionRecord&) = default;
};

std::string_view to_text(Role role);
std::string_view to_text(Basis basis);
std::string_view to_text(Method method);
std::string_view to_text(SpanKind kind);      ///< "work", "break"
std::string_view to_text(ProposalKind kind);  ///< "riveting", "break", "signal"
std::string_view to_text(Rounding rounding);  ///< "none", "minute", "0.1 h", "0.25 h"
std::optional<Role> parse_role(std::string_view text);

}  // namespace jigtime::journal
