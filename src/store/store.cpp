#include "store/store.h"

#include <algorithm>

#include "base/text.h"
#include "journal/rules.h"
#include "store/backup_private.h"
#include "store/connection_private.h"
#include "store/editor_private.h"
#include "store/history_private.h"
#include "store/new_file_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/search_private.h"
#include "store/undo_private.h"
#include "store/words.h"

namespace jigtime::store {

struct Store::Impl {
  explicit Impl(std::unique_ptr<Connection> opened) : connection{std::move(opened)} {}

  /// Runs `deed` on one state of the journal, whatever other programs write meanwhile.
  template <class Deed>
  auto reading(Deed deed) const -> Result<decltype(deed(std::declval<Database&>()))> {
    Database& database = connection->database();
    try {
      if (connection->in_transaction()) return deed(database);
      Transaction transaction{database, Transaction::Kind::read};
      auto value = deed(database);
      transaction.commit();
      return value;
    } catch (const std::exception& exception) {
      return connection->error_of(exception);
    }
  }

  Done edit(std::string_view label, const std::function<Done(Edit&)>& deed);
  /// Undo or redo: in a transaction of its own, with foreign keys off and checked as a whole.
  Result<Change> back_or_forth(Result<Change> (*deed)(Database&, std::string_view));

  std::unique_ptr<Connection> connection;
  std::string who;
};

namespace {

class WithoutForeignKeys {
 public:
  explicit WithoutForeignKeys(Database& database) : database_{database} { database_.exec("PRAGMA foreign_keys = OFF"); }
  WithoutForeignKeys(const WithoutForeignKeys&) = delete;
  WithoutForeignKeys& operator=(const WithoutForeignKeys&) = delete;
  ~WithoutForeignKeys() { database_.tryExec("PRAGMA foreign_keys = ON"); }

 private:
  Database& database_;
};

std::function<void(Database&)> writes(const journal::Build& build) {
  return [&build](Database& database) {
    Query{database,
          "INSERT INTO build (id, name, registration, place, zone, rounding, regime, regime_text) "
          "VALUES (1, ?1, ?2, ?3, ?4, ?5, ?6, ?7)"}
        .with(std::string_view{build.name}, std::string_view{build.registration}, std::string_view{build.place},
              std::string_view{build.zone}, word_for(rounding_words, build.rounding), std::string_view{build.regime},
              std::string_view{build.regime_text})
        .run();
  };
}

/// At most five of the dates, those nearest to the wanted one, in order.
std::string nearest_dates(const std::vector<journal::Session>& sessions, std::chrono::year_month_day wanted) {
  constexpr std::size_t most = 5;
  std::vector<std::chrono::sys_days> dates;
  for (const journal::Session& session : sessions) dates.emplace_back(session.date);
  std::stable_sort(dates.begin(), dates.end(), [day = std::chrono::sys_days{wanted}](auto a, auto b) {
    return std::chrono::abs(a - day) < std::chrono::abs(b - day);
  });
  dates.resize(std::min(dates.size(), most));
  std::sort(dates.begin(), dates.end());
  std::vector<std::string> words;
  for (const std::chrono::sys_days date : dates) words.push_back(to_text(std::chrono::year_month_day{date}));
  return listed(words);
}

Error no_session(const std::vector<journal::Session>& sessions, std::chrono::year_month_day wanted) {
  const std::string start = "There is no session of " + to_text(wanted) + ". ";
  if (sessions.empty()) return {Code::not_found, start + "The journal has none yet: import footage first."};
  return {Code::not_found, start + (sessions.size() > 5 ? "The nearest are " : "The journal has ") +
                               nearest_dates(sessions, wanted) + "."};
}

std::vector<std::string> said_by(Database& database) {
  std::vector<std::string> faults;
  Query integrity{database, "PRAGMA integrity_check"};
  while (integrity.next()) {
    if (std::string said = integrity.text(0); said != "ok") faults.push_back(std::move(said));
  }
  Query foreign{database, "PRAGMA foreign_key_check"};
  while (foreign.next()) {
    faults.push_back("A row of " + foreign.text(0) + " refers to a row of " + foreign.text(2) + " that is gone.");
  }
  return faults;
}

}  // namespace

Done Store::Impl::edit(std::string_view label, const std::function<Done(Edit&)>& deed) {
  if (connection->in_transaction()) {
    return Error{Code::internal, "An edit was begun inside another one."};
  }
  if (Done may = connection->check_may_write(); !may) return may;
  try {
    Database& database = connection->database();
    Transaction transaction{database, Transaction::Kind::write};
    History history{database};
    Editor editor{*connection};
    if (Done done = deed(editor); !done) return done;
    if (editor.lost()) return *editor.lost();
    history.write(label, who);
    transaction.commit();
    return {};
  } catch (const std::exception& exception) {
    return connection->error_of(exception);
  }
}

Result<Change> Store::Impl::back_or_forth(Result<Change> (*deed)(Database&, std::string_view)) {
  if (connection->in_transaction()) return Error{Code::internal, "An undo was begun inside an edit."};
  if (Done may = connection->check_may_write(); !may) return may.error();
  try {
    const WithoutForeignKeys bare{connection->database()};
    Transaction transaction{connection->database(), Transaction::Kind::write};
    Result<Change> change = deed(connection->database(), who);
    if (change) transaction.commit();
    return change;
  } catch (const std::exception& exception) {
    return connection->error_of(exception);
  }
}

Store::Store(std::unique_ptr<Impl> impl) : impl_{std::move(impl)} {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::create(const std::filesystem::path& path, const journal::Build& build) {
  if (Done rules = journal::check(build); !rules) return rules.error();
  Result<std::unique_ptr<Connection>> connection = Connection::create(path, writes(build));
  if (!connection) return connection.error();
  return Store{std::make_unique<Impl>(*std::move(connection))};
}

Result<Store> Store::open(const std::filesystem::path& path) {
  Result<std::unique_ptr<Connection>> connection = Connection::open(path);
  if (!connection) return connection.error();
  return Store{std::make_unique<Impl>(*std::move(connection))};
}

Result<Store> Store::in_memory(const journal::Build& build) {
  if (Done rules = journal::check(build); !rules) return rules.error();
  Result<std::unique_ptr<Connection>> connection = Connection::in_memory(writes(build));
  if (!connection) return connection.error();
  return Store{std::make_unique<Impl>(*std::move(connection))};
}

Done Store::edit(std::string_view label, const std::function<Done(Edit&)>& deed) { return impl_->edit(label, deed); }

Done Store::check_may_write() const { return impl_->connection->check_may_write(); }
void Store::sign_as(std::string who) { impl_->who = std::move(who); }
Result<Change> Store::undo() { return impl_->back_or_forth(undo_last); }
Result<Change> Store::redo() { return impl_->back_or_forth(redo_last); }

Result<std::vector<Change>> Store::history(int most) const {
  return impl_->reading([&](Database& database) { return read_history(database, most); });
}

Done Store::back_up(const std::filesystem::path& given) const {
  const Result<std::filesystem::path> path = usable(given);
  if (!path) return path.error();
  if (Done reserved = reserve(*path); !reserved) return reserved;
  Done done;
  const Result<bool> read = impl_->reading([&](Database& database) {
    // A transaction reads nothing, and so holds no state, before its first statement.
    read_build(database);
    done = copy_into(database, *path);
    return true;
  });
  if (!read) done = read.error();
  if (done) return {};
  take_away(*path);
  return done.error().during("making the copy \"" + path->filename().string() + "\"");
}

Result<journal::Build> Store::build() const { return impl_->reading(read_build); }
Result<journal::Register> Store::known() const { return impl_->reading(read_register); }
Result<std::vector<journal::Session>> Store::sessions() const { return impl_->reading(read_sessions); }
Result<std::vector<journal::SessionRecord>> Store::working_times() const { return impl_->reading(read_working_times); }
Result<std::vector<journal::WorkingDay>> Store::working_days() const { return impl_->reading(read_working_days); }
Result<std::vector<journal::Entry>> Store::entries() const { return impl_->reading(read_entries); }
Result<std::vector<journal::Signature>> Store::signatures() const { return impl_->reading(read_signatures); }
Result<std::vector<journal::OpenItem>> Store::items() const { return impl_->reading(read_items); }
Result<std::vector<journal::Inspection>> Store::inspections() const { return impl_->reading(read_inspections); }

Result<std::string> Store::still_bytes(journal::StillId still) const {
  Result<std::optional<std::string>> bytes =
      impl_->reading([&](Database& database) { return read_still_bytes(database, still); });
  if (!bytes) return bytes.error();
  if (!*bytes) return Error{Code::not_found, "There is no such still in the journal. It may have been removed."};
  return std::move(**bytes);
}

Result<std::optional<journal::Photo>> Store::photo(const FileIdentity& identity) const {
  return impl_->reading([&](Database& database) { return read_photo(database, identity); });
}

Result<journal::Session> Store::session(std::chrono::year_month_day date) const {
  const Result<std::vector<journal::Session>> all = sessions();
  if (!all) return all.error();
  const auto found = std::find_if(all->begin(), all->end(), [&](const auto& session) { return session.date == date; });
  if (found == all->end()) return no_session(*all, date);
  return *found;
}

Result<journal::SessionRecord> Store::record(journal::SessionId id) const {
  Result<std::optional<journal::SessionRecord>> record =
      impl_->reading([&](Database& database) { return read_record(database, id); });
  if (!record) return record.error();
  if (!*record) return Error{Code::not_found, "The session is not in the journal."};
  return std::move(**record);
}

Result<std::optional<journal::Part>> Store::part(const FileIdentity& identity) const {
  return impl_->reading([&](Database& database) { return read_part(database, identity); });
}

Result<std::vector<Hit>> Store::find(std::string_view text, int most) const {
  return impl_->reading([&](Database& database) { return search(database, text, most); });
}

Result<std::vector<std::string>> Store::integrity() const { return impl_->reading(said_by); }

}  // namespace jigtime::store
