// The record as plain values: what a journal holds, nothing about where it is kept.
// Must never know: files, SQLite, libav, threads, the time of day.
// Begin reading at: Session, Clip, Placement, Span.
#pragma once

#include <array>
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
using TieId = Id<struct TieTag>;
using ProposalId = Id<struct ProposalTag>;
using EntryId = Id<struct EntryTag>;
using ChecklistId = Id<struct ChecklistTag>;
using ChecklistLineId = Id<struct ChecklistLineTag>;
using InspectionId = Id<struct InspectionTag>;
using ItemId = Id<struct ItemTag>;
using PhotoId = Id<struct PhotoTag>;
using StillId = Id<struct StillTag>;

/// How hours are rounded when shown. Sums are always kept in nanoseconds.
enum class Rounding { none, minute, tenth_hour, quarter_hour };

struct Build {
  std::string name;
  std::string registration;
  std::string place;
  std::string zone;  ///< IANA name, e.g. Europe/Lisbon
  Rounding rounding = Rounding::none;
  std::string regime{};  ///< name of the rules the build is shown under; may be empty
  /// Those rules themselves, as a text of handbook/regime.h, so that another computer shows them too; empty where none
  /// were chosen, and in journals of a time when only the name was kept.
  std::string regime_text{};
  friend bool operator==(const Build&, const Build&) = default;
};

enum class Role { builder, helper, hired, supplier };

/// A row of the register that is no longer offered, or that turned out to be another one written differently. It stays,
/// since sealed sessions name it.
template <class RowId>
struct Shelf {
  bool archived = false;
  std::optional<RowId> merged{};  ///< into which one; that one is never merged itself
  friend bool operator==(const Shelf&, const Shelf&) = default;
};

struct Person {
  PersonId id;
  std::string name;  ///< unique within the journal
  Role role = Role::builder;
  Shelf<PersonId> shelf{};
  friend bool operator==(const Person&, const Person&) = default;
};

struct Assembly {
  AssemblyId id;
  std::optional<AssemblyId> parent;
  std::string name;  ///< unique among its siblings
  std::string plan_sheet{};
  Shelf<AssemblyId> shelf{};
  friend bool operator==(const Assembly&, const Assembly&) = default;
};

struct Task {
  TaskId id;
  std::string title;  ///< unique within the journal
  std::optional<AssemblyId> assembly;
  std::string plan_sheet;
  std::string plan_step;
  std::optional<TaskId> parent{};  ///< the task it is a part of; never itself, no rings
  std::optional<ChecklistLineId> checklist_line{};
  Shelf<TaskId> shelf{};
  friend bool operator==(const Task&, const Task&) = default;
};

/// What the drawing asks for: so many of one call-out in one task.
struct PlannedFastener {
  PlannedId id;
  TaskId task;
  std::string callout;            ///< in canonical spelling
  int count = 0;                  ///< at least 1
  std::optional<int> grip_uin{};  ///< thickness of the whole stack there, millionths of an inch; nothing: not stated
  friend bool operator==(const PlannedFastener&, const PlannedFastener&) = default;
};

/// One point of a checklist, split in whole tenths.
struct ChecklistLine {
  ChecklistLineId id;
  std::string number;   ///< as the form numbers it; unique within the list
  std::string title;    ///< not empty
  std::string section;  ///< may be empty
  bool applicable = true;
  /// By the maker, by paid help, by the builder as assembly, by the builder as fabrication: exactly ten together, or
  /// all 0 where the line does not apply.
  std::array<int, 4> tenths{};
  friend bool operator==(const ChecklistLine&, const ChecklistLine&) = default;
};

struct Checklist {
  ChecklistId id;
  std::string name;       ///< short, unique within the journal
  std::string title;      ///< what stands above it
  std::string source;     ///< where it came from, as a sentence
  bool official = false;  ///< an authority's own form; false: ours or the builder's
  std::vector<ChecklistLine> lines;
  friend bool operator==(const Checklist&, const Checklist&) = default;
};

struct Session {
  SessionId id;
  std::chrono::year_month_day date;   ///< unique within the journal
  std::optional<WallTime> zero;       ///< wall time of session time zero, once a clock has told it
  std::optional<CameraId> reference;  ///< the camera whose clock rate the session clock follows
  std::string note;
  std::string place{};      ///< where it differs from the build's
  bool zero_fixed = false;  ///< the builder said `zero`: no clock of a camera changes it
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

/// Footage that was given up on purpose. What the journal holds of it stays.
struct LetGo {
  std::chrono::year_month_day on;
  std::string reason;                     ///< not empty
  std::filesystem::path kept_copy{};      ///< a review copy that was kept instead; empty for none
  std::optional<FileIdentity> kept_is{};  ///< which file that is; set exactly when kept_copy is
  friend bool operator==(const LetGo&, const LetGo&) = default;
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
  std::optional<LetGo> let_go{};   ///< nothing: the files are expected where the parts say, or somewhere else

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
  bool tied = false;               ///< manual, but by a tie: the next line-up finds its place anew
  friend bool operator==(const Placement&, const Placement&) = default;
};

/// The builder saw or heard one event in two clips of different cameras.
struct Tie {
  TieId id;
  ClipId clip_a;
  ClipTime at_a;
  ClipId clip_b;
  ClipTime at_b;
  friend bool operator==(const Tie&, const Tie&) = default;
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
  /// Entered by hand for work no camera was to see: all of it is unfilmed, and footage of that time stays untagged.
  bool off_camera = false;
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

enum class ItemKind { part, tool, answer, inspection, redo };

/// How something that waited came to its end.
struct ItemClosing {
  std::chrono::year_month_day on;
  std::optional<SpanId> span{};        ///< whose work closed it
  std::optional<SessionId> session{};  ///< of that span
  std::string words{};
  friend bool operator==(const ItemClosing&, const ItemClosing&) = default;
};

/// Something that waits: for a part, a tool, an answer, an inspection, or to be done again.
struct OpenItem {
  ItemId id;
  ItemKind kind = ItemKind::part;
  std::string words;  ///< not empty
  std::chrono::year_month_day opened_on;
  std::optional<SessionId> session{};  ///< nothing: opened away from any footage
  std::optional<SessionTime> at{};     ///< only with a session
  std::optional<MarkId> mark{};        ///< only of that session
  std::optional<TaskId> task{};
  std::optional<ItemClosing> closing{};  ///< nothing while it waits
  friend bool operator==(const OpenItem&, const OpenItem&) = default;
};

/// What somebody who knows looked at, and what they found.
struct Inspection {
  InspectionId id;
  std::chrono::year_month_day date;
  std::string person;     ///< as signed; not empty
  std::string licence;    ///< number or licence; may be empty
  std::string looked_at;  ///< not empty
  std::string findings;   ///< empty: nothing was found wrong
  std::string stage{};    ///< which of the regime's stage inspections it is; may be empty
  std::optional<SessionId> session{};
  std::optional<SessionTime> at{};                          ///< only with a session
  std::optional<std::chrono::year_month_day> cleared_on{};  ///< not before `date`
  friend bool operator==(const Inspection&, const Inspection&) = default;
};

/// A photo that shows a session's work. The file stays where it is.
struct Photo {
  PhotoId id;
  SessionId session;
  std::filesystem::path path;
  FileIdentity identity;
  std::string camera;                   ///< what took it, as the file or the builder says; may be empty
  std::optional<ClockReading> taken{};  ///< what the file says
  std::optional<SessionTime> at{};      ///< nothing where no clock tells; may lie before the session's zero
  Length sigma{0};                      ///< standard error of `at`
  std::string note{};
  friend bool operator==(const Photo&, const Photo&) = default;
};

/// A picture out of the footage, kept in the journal as evidence. Its bytes are asked for by themselves.
struct Still {
  StillId id;
  SessionId session;
  SessionTime at;
  CameraId camera;
  std::optional<ClipId> clip{};  ///< nothing once that clip was removed
  ClipTime clip_at{};
  std::optional<MarkId> mark{};
  std::string digest;  ///< hex SHA-256 of the bytes, a JPEG file
  friend bool operator==(const Still&, const Still&) = default;
};

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

enum class EntryKind { sealing, amendment };

/// A link of the chain: a sealed session, or a later amendment to one. Immutable.
struct Entry {
  EntryId id;
  SessionId session;
  int number = 0;  ///< 1, 2, 3 ... in order of sealing
  WallTime sealed_at;
  std::string text;      ///< canonical, see seal.h
  std::string previous;  ///< hex digest of entry number - 1; 64 zeros for the first
  std::string digest;    ///< hex SHA-256 over previous and text
  EntryKind kind = EntryKind::sealing;
  std::string reason{};  ///< of an amendment, as are the next two: why
  std::string before{};  ///< what the entry says
  std::string after{};   ///< what it should say
  friend bool operator==(const Entry&, const Entry&) = default;
};

/// Shows that the holder of a key saw the entry with that number and all before it.
struct Signature {
  int number = 0;
  std::string public_key;  ///< hex, 32 bytes
  std::string signature;   ///< hex, 64 bytes, see seal.h
  friend bool operator==(const Signature&, const Signature&) = default;
};

/// People, assemblies, tasks and what is planned: shared by all sessions.
struct Register {
  std::vector<Person> people;
  std::vector<Assembly> assemblies;
  std::vector<Task> tasks;
  std::vector<PlannedFastener> planned;
  std::vector<Camera> cameras;
  std::vector<Checklist> checklists{};

  const Person* person(PersonId id) const;
  /// By name; a name that was merged into another one gives that one. So too for tasks and assemblies.
  const Person* person(std::string_view name) const;
  const Assembly* assembly(AssemblyId id) const;
  const Task* task(TaskId id) const;
  const Task* task(std::string_view title) const;
  const Camera* camera(CameraId id) const;
  const Camera* camera(std::string_view name) const;
  const Checklist* checklist(std::string_view name) const;
  const ChecklistLine* checklist_line(ChecklistLineId id) const;
  /// What a row counts as: itself, or what it was merged into.
  PersonId meant(PersonId id) const;
  AssemblyId meant(AssemblyId id) const;
  TaskId meant(TaskId id) const;
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
  std::optional<Entry> entry;             ///< set once sealed
  std::vector<OpenItem> items{};          ///< opened in this session or closed by it, by id
  std::vector<Inspection> inspections{};  ///< by id
  std::vector<Photo> photos{};            ///< by id
  std::vector<Still> stills{};            ///< by time
  std::vector<Entry> amendments{};        ///< by number
  std::vector<Tie> ties{};                ///< by id

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
std::string_view to_text(ItemKind kind);      ///< "part", "tool", "answer", "inspection", "redo"
std::optional<Role> parse_role(std::string_view text);
std::optional<ItemKind> parse_item_kind(std::string_view text);

}  // namespace jigtime::journal
