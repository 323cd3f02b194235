#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <functional>
#include <new>

#include "base/text.h"
#include "store/connection_private.h"
#include "store/failure_private.h"
#include "store/migration_private.h"
#include "store/new_file_private.h"
#include "store/numbers_private.h"
#include "store/query_private.h"
#include "store/ranking_private.h"
#include "store/schema.h"
#include "store/store.h"

namespace jigtime::store {
namespace {

constexpr int busy_timeout_ms = 2000;
constexpr std::size_t header_bytes = 100;

/// The file format's own header: magic at 0, user_version at 60, application_id at 68, both big endian.
std::int64_t big_endian(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = at; i < at + 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes[i]);
  return static_cast<std::int32_t>(value);
}

Error newer(const std::filesystem::path& path, std::int64_t version) {
  return {Code::unsupported, "The journal " + shown(path) + " was written by a newer Jigtime (format " +
                                 std::to_string(version) + "; this program knows " +
                                 std::to_string(Store::schema_version) +
                                 "). Update Jigtime; the journal was not changed."};
}

Done check_regular(const std::filesystem::path& path) {
  std::error_code failed;
  const std::filesystem::file_status status = std::filesystem::status(path, failed);
  if (status.type() == std::filesystem::file_type::not_found) {
    return Error{Code::not_found,
                 "There is no journal at " + shown(path) + ". Check the path, or make one with \"jigtime new\"."};
  }
  if (failed) return denied(path);
  if (std::filesystem::is_directory(status)) return not_a_journal(path, "it is a folder");
  if (!std::filesystem::is_regular_file(status)) return not_a_journal(path, "it is not a plain file");
  return {};
}

/// What tells that a file is being written, or was left in the middle of it.
struct FileState {
  explicit FileState(const std::filesystem::path& path) {
    std::error_code failed;
    size = std::filesystem::file_size(path, failed);
    written = std::filesystem::last_write_time(path, failed);
    for (const char* ending : {"-wal", "-journal"}) {
      std::filesystem::path log = path;
      log += ending;
      const auto length = std::filesystem::file_size(log, failed);
      has_log = has_log || (!failed && length > 0);
    }
  }
  bool operator==(const FileState&) const = default;

  std::uintmax_t size = 0;
  std::filesystem::file_time_type written;
  bool has_log = false;
};

Error with_log(const std::filesystem::path& path) {
  return {Code::denied,
          "The journal " + shown(path) +
              " cannot be written where it lies, and its last edits stand in the file beside it (\"" +
              to_utf8(path.filename().string()) +
              "-wal\"). Close it where it is open, or copy both files to a folder of your own and open it "
              "there."};
}

Error changed_meanwhile(const std::filesystem::path& path) {
  return {Code::busy, "Another program is writing to the journal " + shown(path) + ". Try again in a moment."};
}

/// https://www.sqlite.org/c3ref/deserialize.html: a database in memory has no write-ahead log, so the two bytes of its
/// header that ask for one (18 and 19, https://www.sqlite.org/fileformat2.html) ask for none.
void load(std::string bytes, sqlite3* handle) {
  constexpr std::size_t write_version = 18;
  constexpr std::size_t read_version = 19;
  if (bytes.size() < header_bytes) throw Damaged{"it is cut short"};
  bytes[write_version] = bytes[read_version] = 1;
  auto* const memory = static_cast<unsigned char*>(sqlite3_malloc64(bytes.size()));
  if (memory == nullptr) throw std::bad_alloc{};
  std::memcpy(memory, bytes.data(), bytes.size());
  const auto size = static_cast<sqlite3_int64>(bytes.size());
  if (sqlite3_deserialize(handle, "main", memory, size, size,
                          SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_RESIZEABLE) != SQLITE_OK) {
    throw Damaged{"it cannot be read into memory"};
  }
}

void check_build(Database& database) {
  if (!Query{database, "SELECT 1 FROM build WHERE id = 1"}.next()) throw Damaged{"the build's name is gone"};
}

/// Everything in one transaction, in the plain rollback mode: whatever happens, the file's header is that of a journal
/// or the file is empty.
void build_tables(Database& database, const std::function<void(Database&)>& fill) {
  Transaction transaction{database, Transaction::Kind::write};
  database.exec("PRAGMA application_id = " + std::to_string(application_id));
  apply_steps(database, migrations());
  fill(database);
  transaction.commit();
}

}  // namespace

Transaction::Transaction(Database& database, Kind kind) : database_{database} {
  database_.exec(kind == Kind::write ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  if (open_) database_.tryExec("ROLLBACK");
}

void Transaction::commit() {
  database_.exec("COMMIT");
  open_ = false;
}

Connection::Connection(const std::filesystem::path& path, int flags, Kept kept)
    : path_{path},
      database_{kept == Kept::in_memory ? std::string{":memory:"} : path.string(), flags | SQLITE_OPEN_NOMUTEX,
                busy_timeout_ms} {}

void Connection::configure() {
  // A journal may come from somebody else: no statement may reach below the tables.
  sqlite3_db_config(database_.getHandle(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  database_.exec("PRAGMA foreign_keys = ON");
  database_.exec("PRAGMA recursive_triggers = ON");
  database_.exec("PRAGMA synchronous = FULL");
  database_.exec("PRAGMA temp_store = MEMORY");
  // Room for the spans of many years, so that totals after every edit read what has changed and no more (in KiB).
  database_.exec("PRAGMA cache_size = -32768");
  teach_occurrences(database_);
  teach_take_row(database_);
}

bool Connection::in_transaction() const { return sqlite3_get_autocommit(database_.getHandle()) == 0; }

Error Connection::error_of(const std::exception& exception) const {
  return store::error_of(exception, path_, database_.getHandle());
}

Done Connection::check_may_write() {
  if (only_read_) return denied(path_);
  int moved = 0;
  sqlite3_file_control(database_.getHandle(), "main", SQLITE_FCNTL_HAS_MOVED, &moved);
  if (moved == 0) return {};
  return Error{Code::not_found, "The journal " + shown(path_) +
                                    " was moved, replaced or deleted since it was opened; nothing was written. Put it "
                                    "back, or open it where it is now."};
}

/// Read through SQLite's own file, not through one of ours: closing that would drop the locks that other connections
/// of this process hold on the journal.
Result<std::string> Connection::first_bytes() {
  sqlite3_file* file = nullptr;
  sqlite3_file_control(database_.getHandle(), "main", SQLITE_FCNTL_FILE_POINTER, &file);
  std::string bytes(header_bytes, '\0');
  if (file == nullptr || file->pMethods == nullptr) return not_a_journal(path_, "it cannot be opened");
  const int read = file->pMethods->xRead(file, bytes.data(), static_cast<int>(bytes.size()), 0);
  if (read == SQLITE_IOERR_SHORT_READ) return not_a_journal(path_, "it is empty or cut short");
  if (read != SQLITE_OK) return Error{Code::unreadable, "The file " + shown(path_) + " cannot be read from its disk."};
  return bytes;
}

/// Through SQLite's own file, for the same reason.
Result<std::string> Connection::all_bytes() {
  sqlite3_file* file = nullptr;
  sqlite3_file_control(database_.getHandle(), "main", SQLITE_FCNTL_FILE_POINTER, &file);
  sqlite3_int64 size = 0;
  std::string bytes;
  bool read = file != nullptr && file->pMethods != nullptr && file->pMethods->xFileSize(file, &size) == SQLITE_OK;
  if (read) bytes.resize(static_cast<std::size_t>(size));
  constexpr std::size_t block = std::size_t{1} << 24U;
  for (std::size_t at = 0; read && at < bytes.size(); at += block) {
    const auto length = static_cast<int>(std::min(block, bytes.size() - at));
    read = file->pMethods->xRead(file, bytes.data() + at, length, static_cast<sqlite3_int64>(at)) == SQLITE_OK;
  }
  if (read) return bytes;
  return Error{Code::unreadable, "The file " + shown(path_) + " cannot be read from its disk."};
}

Done Connection::check_is_journal() {
  const Result<std::string> bytes = first_bytes();
  if (!bytes) return bytes.error();
  if (std::memcmp(bytes->data(), "SQLite format 3", 16) != 0) return not_a_journal(path_, "it is another kind of file");
  if (big_endian(*bytes, 68) != application_id) return not_a_journal(path_, "it is the database of another program");
  if (const std::int64_t version = big_endian(*bytes, 60); version > Store::schema_version)
    return newer(path_, version);
  return {};
}

Done Connection::migrate() {
  if (const std::int64_t version = format_of(database_); version > Store::schema_version) return newer(path_, version);
  if (format_of(database_) < Store::schema_version) {
    Transaction transaction{database_, Transaction::Kind::write};
    apply_steps(database_, migrations());
    check_build(database_);
    transaction.commit();
  }
  check_build(database_);
  return {};
}

Result<std::unique_ptr<Connection>> Connection::open(const std::filesystem::path& given) {
  const Result<std::filesystem::path> path = usable(given);
  if (!path) return path.error();
  if (Done regular = check_regular(*path); !regular) return regular.error();
  auto connection = open_to_write(*path);
  if (connection || connection.error().code() != Code::denied) return connection;
  return open_to_read(*path);
}

Result<std::unique_ptr<Connection>> Connection::open_to_write(const std::filesystem::path& path) {
  std::unique_ptr<Connection> connection;
  try {
    connection.reset(new Connection{path, SQLite::OPEN_READONLY});
    if (Done journal = connection->check_is_journal(); !journal) return journal.error();
    connection.reset(new Connection{path, SQLite::OPEN_READWRITE});
    if (sqlite3_db_readonly(connection->database_.getHandle(), "main") != 0) return denied(path);
    // Until the format is known to be ours, closing must not fold the write-ahead log into the file.
    sqlite3* const handle = connection->database_.getHandle();
    sqlite3_db_config(handle, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    connection->configure();
    if (Done migrated = connection->migrate(); !migrated) return migrated.error();
    sqlite3_db_config(handle, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, nullptr);
    return connection;
  } catch (const std::exception& exception) {
    return connection == nullptr ? store::error_of(exception, path, nullptr) : connection->error_of(exception);
  }
}

Result<std::unique_ptr<Connection>> Connection::open_to_read(const std::filesystem::path& path) {
  std::unique_ptr<Connection> connection;
  try {
    connection.reset(new Connection{path, SQLite::OPEN_READONLY});
    const FileState before{path};
    Result<std::string> bytes = connection->all_bytes();
    if (!bytes) return bytes.error();
    const FileState after{path};
    if (before.has_log || after.has_log) return with_log(path);
    if (before != after) return changed_meanwhile(path);
    connection.reset(new Connection{path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, Kept::in_memory});
    connection->only_read_ = true;
    load(*std::move(bytes), connection->database_.getHandle());
    connection->configure();
    // In memory only: also a journal of an older format can be read.
    if (Done migrated = connection->migrate(); !migrated) return migrated.error();
    connection->database_.exec("PRAGMA query_only = ON");
    return connection;
  } catch (const std::exception& exception) {
    return connection == nullptr ? store::error_of(exception, path, nullptr) : connection->error_of(exception);
  }
}

Result<std::unique_ptr<Connection>> Connection::create(const std::filesystem::path& given,
                                                       const std::function<void(Database&)>& fill) {
  const Result<std::filesystem::path> path = usable(given);
  if (!path) return path.error();
  if (Done reserved = reserve(*path); !reserved) return reserved.error();
  std::unique_ptr<Connection> connection;
  try {
    connection.reset(new Connection{*path, SQLite::OPEN_READWRITE});
    connection->configure();
    build_tables(connection->database_, fill);
    connection->database_.exec("PRAGMA journal_mode = WAL");
    return connection;
  } catch (const std::exception& exception) {
    const Error error =
        connection == nullptr ? store::error_of(exception, *path, nullptr) : connection->error_of(exception);
    connection.reset();
    take_away(*path);
    return error;
  }
}

Result<std::unique_ptr<Connection>> Connection::in_memory(const std::function<void(Database&)>& fill) {
  try {
    std::unique_ptr<Connection> connection{
        new Connection{{}, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, Kept::in_memory}};
    connection->configure();
    build_tables(connection->database_, fill);
    return connection;
  } catch (const std::exception& exception) {
    return store::error_of(exception, "in memory", nullptr);
  }
}

}  // namespace jigtime::store
