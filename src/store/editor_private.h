// The open end of one transaction: rules first, then rows.
// Must never know: how the transaction ends.
// Begin reading at: Editor::attempt.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "store/connection_private.h"
#include "store/database_private.h"
#include "store/store.h"

namespace jigtime::store {

/// Every call leaves all of its rows or none of them.
class Editor final : public Edit {
 public:
  explicit Editor(Connection& connection) : connection_{connection}, database_{connection.database()} {}

  /// Why the transaction can no longer be committed, if that is so (the disk was full, the file failed).
  const std::optional<Error>& lost() const { return lost_; }

  Done set_build(const journal::Build& build) override;
  Result<journal::PersonId> add(const journal::Person& person) override;
  Result<journal::AssemblyId> add(const journal::Assembly& assembly) override;
  Result<journal::TaskId> add(const journal::Task& task) override;
  Done update(const journal::Person& person) override;
  Done update(const journal::Assembly& assembly) override;
  Done update(const journal::Task& task) override;
  Done merge(journal::PersonId from, journal::PersonId into) override;
  Done merge(journal::AssemblyId from, journal::AssemblyId into) override;
  Done merge(journal::TaskId from, journal::TaskId into) override;
  Result<journal::ChecklistId> add(const journal::Checklist& list) override;
  Done update(const journal::Checklist& list) override;
  Done remove(journal::ChecklistId list) override;
  Done set_planned(const journal::PlannedFastener& planned) override;
  Result<journal::CameraId> add(const journal::Camera& camera) override;
  Result<journal::SessionId> add(const journal::Session& session) override;
  Done update(const journal::Session& session) override;
  Result<journal::ClipId> add(const journal::Clip& clip) override;
  Done update(const journal::Clip& clip) override;
  Done remove(journal::ClipId clip) override;
  Done relink(journal::PartId part, const std::filesystem::path& path) override;
  Done relink(journal::PhotoId photo, const std::filesystem::path& path) override;
  Done let_go(journal::ClipId clip, const journal::LetGo& let_go) override;
  Done take_back(journal::ClipId clip) override;
  Done add(const journal::Unreadable& file) override;
  Done remove_unreadable(journal::SessionId session, const std::filesystem::path& path) override;
  Done set_placement(const journal::Placement& placement) override;
  Done set_clock(const journal::CameraClock& clock) override;
  Result<journal::TieId> add(const journal::Tie& tie) override;
  Done remove(journal::TieId tie) override;
  Result<journal::SpanId> add(const journal::Span& span) override;
  Done update(const journal::Span& span) override;
  Done remove(journal::SpanId span) override;
  Result<journal::MarkId> add(const journal::Mark& mark) override;
  Done update(const journal::Mark& mark) override;
  Done remove(journal::MarkId mark) override;
  Result<journal::ItemId> add(const journal::OpenItem& item) override;
  Done update(const journal::OpenItem& item) override;
  Done remove(journal::ItemId item) override;
  Result<journal::InspectionId> add(const journal::Inspection& inspection) override;
  Done update(const journal::Inspection& inspection) override;
  Done remove(journal::InspectionId inspection) override;
  Result<journal::PhotoId> add(const journal::Photo& photo) override;
  Done update(const journal::Photo& photo) override;
  Done remove(journal::PhotoId photo) override;
  Result<journal::StillId> add(const journal::Still& still, std::string_view bytes) override;
  Done remove(journal::StillId still) override;
  Done move_moments(journal::SessionId session, Length by) override;
  Done set_proposals(journal::SessionId session, const std::vector<journal::Proposal>& proposals) override;
  Result<journal::EntryId> add(const journal::Entry& entry) override;
  Done add(const journal::Signature& signature) override;

 private:
  /// Runs `deed` (which returns a Result) inside a savepoint that is undone when it fails or throws.
  template <class Deed>
  auto attempt(Deed deed) -> decltype(deed());

  // Each fails with a message that names what is missing or in the way.
  Done need_session(journal::SessionId session);  ///< there, and not sealed
  Done need_session_of(const char* sql, std::int64_t row, std::string_view what);
  Done need_task(journal::TaskId task);
  Done need_camera(journal::CameraId camera);
  Done need_assembly(std::optional<journal::AssemblyId> assembly);
  Done need_unused(const char* sql, std::string_view name, std::int64_t id, const std::string& taken);
  Done need_line(std::optional<journal::ChecklistLineId> line);
  /// Both there, two of them, neither merged away already. `table` is person, assembly or task.
  Done need_two(const std::string& table, std::int64_t from, std::int64_t into);
  /// `row` would become its own ancestor under `parent`.
  Done need_no_ring(const std::string& table, std::int64_t row, std::optional<std::int64_t> parent);
  void shelve(const std::string& table, std::int64_t from, std::int64_t into);

  Done check_clip(const journal::Clip& clip);
  Done check_parts_kept(const journal::Clip& before, const journal::Clip& clip);
  void write_part(journal::ClipId clip, int position, const journal::Part& part);
  void write_clip_notes(journal::ClipId clip, const std::vector<std::string>& notes);
  void write_placement(const journal::Placement& placement);
  Done check_span(const journal::Span& span);
  void write_span_rows(journal::SpanId id, const journal::Span& span);
  Done check_entry(const journal::Entry& entry);
  Done check_assembly(const journal::Assembly& assembly);
  Done check_task(const journal::Task& task);
  Done check_lines_free(journal::ChecklistId list, const std::vector<journal::ChecklistLine>& kept);
  void write_lines(journal::ChecklistId list, const std::vector<journal::ChecklistLine>& lines);
  Done check_item(const journal::OpenItem& item);
  Done write_closing(journal::ItemId item, const std::optional<journal::ItemClosing>& closing);
  Done write_clearing(const journal::Inspection& inspection, const journal::Inspection& before);

  Connection& connection_;
  Database& database_;
  std::optional<Error> lost_;
};

/// ROLLBACK TO unless kept.
class Savepoint {
 public:
  explicit Savepoint(Database& database) : database_{database} { database_.exec("SAVEPOINT attempt"); }
  Savepoint(const Savepoint&) = delete;
  Savepoint& operator=(const Savepoint&) = delete;
  ~Savepoint() {
    if (!kept_) database_.tryExec("ROLLBACK TO attempt; RELEASE attempt");
  }
  void keep() {
    database_.exec("RELEASE attempt");
    kept_ = true;
  }

 private:
  Database& database_;
  bool kept_ = false;
};

template <class Deed>
auto Editor::attempt(Deed deed) -> decltype(deed()) {
  if (lost_) return *lost_;
  try {
    Savepoint savepoint{database_};
    auto result = deed();
    if (result) savepoint.keep();
    return result;
  } catch (const std::exception& exception) {
    Error error = connection_.error_of(exception);
    // What is left of the transaction is not what the deed believes it wrote.
    if (error.code() != Code::conflict) lost_ = error;
    return error;
  }
}

}  // namespace jigtime::store
