// The journal as another program sees it: plain SQLite, none of our code.
#pragma once

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <string>

namespace jigtime::test {

class Raw {
 public:
  explicit Raw(const std::filesystem::path& path) {
    sqlite3* handle = nullptr;
    const int code = sqlite3_open(std::filesystem::absolute(path).c_str(), &handle);
    handle_.reset(handle);
    REQUIRE(code == SQLITE_OK);
  }

  /// What SQLite said; "ok" when it did as told.
  std::string run(const std::string& sql) {
    char* said = nullptr;
    const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, &said);
    const std::unique_ptr<char, FreeText> owner{said};
    if (code == SQLITE_OK) return "ok";
    return said == nullptr ? sqlite3_errstr(code) : said;
  }
  void must(const std::string& sql) { REQUIRE(run(sql) == "ok"); }

  /// First column of the first row, "" for NULL or no row.
  std::string value(const std::string& sql) {
    std::string found;
    const auto take = [](void* to, int, char** values, char**) {
      if (values[0] != nullptr) *static_cast<std::string*>(to) = values[0];
      return 1;
    };
    sqlite3_exec(handle_.get(), sql.c_str(), take, &found, nullptr);
    return found;
  }

 private:
  struct Close {
    void operator()(sqlite3* handle) const { sqlite3_close(handle); }
  };
  struct FreeText {
    void operator()(char* text) const { sqlite3_free(text); }
  };
  std::unique_ptr<sqlite3, Close> handle_;
};

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file{path, std::ios::binary};
  std::string bytes(std::filesystem::file_size(path), '\0');
  file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return bytes;
}

inline void write_bytes(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream{path, std::ios::binary} << bytes;
}

}  // namespace jigtime::test
