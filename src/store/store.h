// The journal file: one SQLite database, one aircraft build.
// Must never know: how footage is read, how anything is shown. SQLiteCpp stays inside the sources.
// Begin reading at: Store::open, then Edit.
//
// One edit is one transaction, committed at once (WAL, foreign keys on, synchronous FULL). One Store is used by one
// thread at a time. Other processes may read while one writes; a writer waits up to two seconds for another writer and
// then fails with Code::busy. Disk full is Code::no_space and leaves the journal as it was.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "journal/values.h"
#include "journal/working_day.h"

namespace jigtime::store {

/// One hit of a search over everything written.
struct Hit {
  enum class Kind { span, mark, item, entry, inspection, photo, session };
  Kind kind = Kind::span;
  journal::SessionId session;        ///< 0 for what belongs to no session
  std::optional<SessionTime> begin;  ///< nothing for an entry or a session as a whole
  std::string text;                  ///< what was written, as one line
};

/// One thing that was done to the journal.
struct Change {
  enum class Deed { edit, undo, redo };
  std::int64_t id = 0;
  WallTime at;
  std::string who;  ///< as Store::sign_as said; empty for what was done before names were kept
  std::string label;
  Deed deed = Deed::edit;
  std::optional<std::int64_t> target{};  ///< of an undo or a redo: the edit that was taken back or done again
  bool undone = false;                   ///< of an edit: it does not hold at present
  bool stays = false;                    ///< of an edit in the history: a seal, or it concerns a sealed session
  std::string what{};   ///< "1 span added, 2 marks taken out", of an edit or of that an undo or redo just done is about
  int passed_over = 0;  ///< of an undo that was just done: later edits that stay since they are sealed
};

/// The open end of one transaction. Every call checks the rules of journal/rules.h and the state of the record first; a
/// sealed session refuses every change with Code::conflict. Added rows come back with their ids.
class Edit {
 public:
  virtual ~Edit() = default;

  virtual Done set_build(const journal::Build& build) = 0;
  virtual Result<journal::PersonId> add(const journal::Person& person) = 0;
  virtual Result<journal::AssemblyId> add(const journal::Assembly& assembly) = 0;
  virtual Result<journal::TaskId> add(const journal::Task& task) = 0;
  /// Of the shelf only `archived` is taken: merge() alone merges.
  virtual Done update(const journal::Person& person) = 0;
  virtual Done update(const journal::Assembly& assembly) = 0;
  virtual Done update(const journal::Task& task) = 0;
  /// `from` was `into` all along: everything that is not sealed names `into` from now on, plans are added up, and
  /// `from` stays on the shelf for what is sealed.
  virtual Done merge(journal::PersonId from, journal::PersonId into) = 0;
  virtual Done merge(journal::AssemblyId from, journal::AssemblyId into) = 0;
  virtual Done merge(journal::TaskId from, journal::TaskId into) = 0;
  virtual Result<journal::ChecklistId> add(const journal::Checklist& list) = 0;
  /// Lines with an id are changed, those without are added, the others are taken out. A line that a task carries
  /// cannot be taken out: Code::conflict.
  virtual Done update(const journal::Checklist& list) = 0;
  virtual Done remove(journal::ChecklistId list) = 0;
  /// Replaces the planned count and the grip of that call-out in that task; count 0 removes the line.
  virtual Done set_planned(const journal::PlannedFastener& planned) = 0;
  virtual Result<journal::CameraId> add(const journal::Camera& camera) = 0;
  virtual Result<journal::SessionId> add(const journal::Session& session) = 0;
  virtual Done update(const journal::Session& session) = 0;
  virtual Result<journal::ClipId> add(const journal::Clip& clip) = 0;
  /// Appends parts (id 0) behind those there are, or changes camera, lengths and notes; the placement of the clip is
  /// kept and must still fit.
  virtual Done update(const journal::Clip& clip) = 0;
  virtual Done remove(journal::ClipId clip) = 0;  ///< footage stays where it is; placement goes with the clip
  virtual Done relink(journal::PartId part, const std::filesystem::path& path) = 0;
  virtual Done relink(journal::PhotoId photo, const std::filesystem::path& path) = 0;
  /// Allowed for a sealed session too, once: what was said about sealed footage stays said.
  virtual Done let_go(journal::ClipId clip, const journal::LetGo& let_go) = 0;
  virtual Done take_back(journal::ClipId clip) = 0;       ///< not an error when it was never let go
  virtual Done add(const journal::Unreadable& file) = 0;  ///< once per path and session; a repeat replaces the reason
  /// Not an error when it was not listed.
  virtual Done remove_unreadable(journal::SessionId session, const std::filesystem::path& path) = 0;
  virtual Done set_placement(const journal::Placement& placement) = 0;  ///< replaces
  virtual Done set_clock(const journal::CameraClock& clock) = 0;        ///< replaces
  virtual Result<journal::TieId> add(const journal::Tie& tie) = 0;
  virtual Done remove(journal::TieId tie) = 0;
  virtual Result<journal::SpanId> add(const journal::Span& span) = 0;
  virtual Done update(const journal::Span& span) = 0;
  virtual Done remove(journal::SpanId span) = 0;  ///< an item that it closed waits again
  virtual Result<journal::MarkId> add(const journal::Mark& mark) = 0;
  virtual Done update(const journal::Mark& mark) = 0;
  virtual Done remove(journal::MarkId mark) = 0;  ///< items and stills of it stay
  virtual Result<journal::ItemId> add(const journal::OpenItem& item) = 0;
  /// Also closes it and opens it again. The closing of an item of a sealed session is free until the session whose
  /// span closed it is sealed too.
  virtual Done update(const journal::OpenItem& item) = 0;
  virtual Done remove(journal::ItemId item) = 0;
  virtual Result<journal::InspectionId> add(const journal::Inspection& inspection) = 0;
  /// Of an inspection in a sealed session only the day it was cleared can be set, once.
  virtual Done update(const journal::Inspection& inspection) = 0;
  virtual Done remove(journal::InspectionId inspection) = 0;
  virtual Result<journal::PhotoId> add(const journal::Photo& photo) = 0;
  virtual Done update(const journal::Photo& photo) = 0;  ///< identity and session stay as they are
  virtual Done remove(journal::PhotoId photo) = 0;       ///< the file stays where it is
  /// `bytes` are a JPEG file's; the still's digest must be theirs.
  virtual Result<journal::StillId> add(const journal::Still& still, std::string_view bytes) = 0;
  virtual Done remove(journal::StillId still) = 0;
  /// Everything that lies on the session clock but the placements: spans, marks, items, inspections, photos, stills
  /// and proposals. An item whose closing is sealed stays. Precondition: nothing comes to lie before zero.
  virtual Done move_moments(journal::SessionId session, Length by) = 0;
  virtual Done set_proposals(journal::SessionId session,
                             const std::vector<journal::Proposal>& proposals) = 0;  ///< replaces all
  /// Seals the entry's session, or amends a sealed one.
  virtual Result<journal::EntryId> add(const journal::Entry& entry) = 0;
  virtual Done add(const journal::Signature& signature) = 0;  ///< of an entry that is there; once a key
};

class Store {
 public:
  static constexpr int schema_version = 4;

  /// Makes the file; invalid when it exists already.
  static Result<Store> create(const std::filesystem::path& path, const journal::Build& build);
  /// Opens and, if need be, migrates to schema_version in one transaction after checking that the file is a journal
  /// (application_id). A journal that can be read and not written is shown as it is at that moment, in memory, and
  /// refuses every edit as denied. Errors: not_found, unreadable (no journal or damaged), unsupported (newer than this
  /// program), denied (not to be read, or with its last edits in a file beside it), busy.
  static Result<Store> open(const std::filesystem::path& path);
  /// For tests: a real database in memory.
  static Result<Store> in_memory(const journal::Build& build);

  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  /// Runs `deed` inside one transaction named by `label` ("tag a span"); commits when it succeeds, else rolls back.
  /// A call on the Edit that fails leaves none of its rows; the deed may go on after it unless the transaction itself
  /// is lost (disk full, disk failed): then nothing is committed. Reads of this Store inside the deed see its rows.
  /// The label, the time and the changed rows are kept in the journal, unless nothing was changed.
  Done edit(std::string_view label, const std::function<Done(Edit&)>& deed);
  /// Whether an edit would be refused as a whole now, and why: denied (the journal is shown from memory), not_found
  /// (its file was moved or deleted since).
  Done check_may_write() const;

  /// Who the edits from now on are done by, for the history.
  void sign_as(std::string who);
  /// Takes back the last edit that can still be taken back, whoever did it and whenever; itself a line of the history.
  /// Seals, amendments, signatures, what concerns a sealed session and what such an edit needs are passed over: they
  /// stay, and do not stand in the way of other sessions. not_found when nothing is left that can be taken back;
  /// conflict where another program has changed the rows of the last edit.
  Result<Change> undo();
  /// Does again what was undone last. not_found when nothing was undone since the last edit.
  Result<Change> redo();
  Result<std::vector<Change>> history(int most = 1000) const;  ///< newest first

  /// A whole copy as a new journal file, also while this or another program writes: it holds one state of the journal.
  /// invalid when the file is there already; a copy that fails is taken away again.
  Done back_up(const std::filesystem::path& path) const;

  Result<journal::Build> build() const;
  Result<journal::Register> known() const;
  Result<std::vector<journal::Session>> sessions() const;  ///< by date
  /// Code::not_found when there is none on that date; the message lists the dates there are (at most five).
  Result<journal::Session> session(std::chrono::year_month_day date) const;
  Result<journal::SessionRecord> record(journal::SessionId id) const;
  /// What hours are counted from, of all sessions by date and in few reads: the session, its spans without fasteners
  /// and notes, and where its footage lies (one placement for all clips, pieces in no order, without evidence).
  Result<std::vector<journal::SessionRecord>> working_times() const;
  /// The same with nothing else in it, for totals.
  Result<std::vector<journal::WorkingDay>> working_days() const;
  Result<std::vector<journal::Entry>> entries() const;            ///< the whole chain, amendments too, by number
  Result<std::vector<journal::Signature>> signatures() const;     ///< by number
  Result<std::vector<journal::OpenItem>> items() const;           ///< all, by the day they were opened
  Result<std::vector<journal::Inspection>> inspections() const;   ///< all, by date
  Result<std::string> still_bytes(journal::StillId still) const;  ///< a JPEG file
  /// The part with that identity, wherever it lies.
  Result<std::optional<journal::Part>> part(const FileIdentity& identity) const;
  Result<std::optional<journal::Photo>> photo(const FileIdentity& identity) const;
  /// All words must occur (prefixes count, accents and case do not), best first, at most `most`, and never more than
  /// the thousand that are ranked. Any text is a valid query.
  Result<std::vector<Hit>> find(std::string_view text, int most = 200) const;
  /// Empty when PRAGMA integrity_check and foreign_key_check are clean, else what they said.
  Result<std::vector<std::string>> integrity() const;

 private:
  struct Impl;
  explicit Store(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

/// Lower-case hex SHA-256 (libsodium's).
std::string sha256_hex(std::string_view bytes);
inline constexpr std::size_t sha256_hex_length = 64;

}  // namespace jigtime::store
