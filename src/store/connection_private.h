// One open journal file: opening with every check, transactions, and SQLite's failures as errors.
// Must never know: the record's values.
// Begin reading at: Connection::open.
#pragma once

#include <exception>
#include <filesystem>
#include <functional>
#include <memory>

#include "base/result.h"
#include "store/database_private.h"

namespace jigtime::store {

class Connection {
 public:
  /// Never makes a file, and changes nothing in one that is no journal or is newer than this program. A journal that
  /// may be read and not written (a locked medium, somebody else's file) is read into memory as it is at that moment.
  static Result<std::unique_ptr<Connection>> open(const std::filesystem::path& path);
  /// Makes the file with all its tables, and takes it away again when that fails. `fill` writes the first rows.
  static Result<std::unique_ptr<Connection>> create(const std::filesystem::path& path,
                                                    const std::function<void(Database&)>& fill);
  static Result<std::unique_ptr<Connection>> in_memory(const std::function<void(Database&)>& fill);

  Database& database() { return database_; }
  bool in_transaction() const;
  /// denied when the file could only be read; not_found when it was moved or deleted since it was opened: what is
  /// written now would be lost.
  Done check_may_write();
  /// What a caught exception means for the builder.
  Error error_of(const std::exception& exception) const;

 private:
  enum class Kept { in_its_file, in_memory };
  Connection(const std::filesystem::path& path, int flags, Kept kept = Kept::in_its_file);
  static Result<std::unique_ptr<Connection>> open_to_write(const std::filesystem::path& path);
  static Result<std::unique_ptr<Connection>> open_to_read(const std::filesystem::path& path);
  void configure();
  Result<std::string> all_bytes();
  Done migrate();
  Result<std::string> first_bytes();
  Done check_is_journal();

  std::filesystem::path path_;
  bool only_read_ = false;
  mutable Database database_;
};

/// BEGIN ... and, unless committed, ROLLBACK.
class Transaction {
 public:
  enum class Kind { read, write };
  Transaction(Database& database, Kind kind);
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();
  void commit();

 private:
  Database& database_;
  bool open_ = true;
};

}  // namespace jigtime::store
