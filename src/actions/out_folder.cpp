#include "actions/out_folder.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <map>
#include <set>
#include <system_error>

#include "actions/whole_file.h"
#include "base/text.h"
#include "store/store.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

/// Name -> digests it may have. While files are being replaced it may have the old one or the new one.
using Known = std::multimap<std::string, std::string>;

constexpr std::string_view list_head = "# Files that Jigtime wrote, with the SHA-256 of each. Export of: ";

std::string digest_of(const std::vector<std::uint8_t>& bytes) {
  return store::sha256_hex(std::string(bytes.begin(), bytes.end()));
}

Error conflict(const fs::path& path, const std::string& why) {
  return {Code::conflict, "\"" + to_utf8(path.string()) + "\" " + why};
}

/// Names that lead nowhere else: the list may have been written by anybody.
bool stays_inside(const std::string& name) {
  const fs::path path{name};
  if (name.empty() || path.is_absolute() || name == list_name) return false;
  const auto parts = std::distance(path.begin(), path.end());
  return parts <= 2 && std::none_of(path.begin(), path.end(),
                                    [](const fs::path& part) { return part == ".." || part == "." || part.empty(); });
}

std::string text_of(const OutFolder& out, const Known& known) {
  std::string text = std::string{list_head} + out.title + "\n# To check them: sha256sum -c " + list_name + "\n";
  for (const auto& [name, digest] : known) text.append(digest).append("  ").append(name).append("\n");
  return text;
}

/// Empty when there is no list yet.
Result<Known> read_list(const fs::path& folder, const OutFolder& out) {
  Known known;
  const fs::path path = folder / list_name;
  std::error_code ignored;
  if (!fs::exists(fs::symlink_status(path, ignored))) return known;
  const auto text = read_text(path);
  if (!text) return text.error();
  const std::vector<std::string> lines = split(*text, '\n');
  if (!lines.front().starts_with(list_head)) {
    return conflict(path, "is not Jigtime's list of files. Move it away, or export to another folder.");
  }
  const std::string title = lines.front().substr(list_head.size());
  if (title != out.title) {
    return conflict(folder, "holds the export of " + title + ". Export this one to another folder.");
  }
  for (const std::string& line : lines) {
    constexpr std::size_t digest_size = 64;
    if (line.size() < digest_size + 3 || line[digest_size] != ' ') continue;
    const std::string name = line.substr(digest_size + 2);
    if (stays_inside(name)) known.emplace(name, line.substr(0, digest_size));
  }
  return known;
}

bool is_known(const Known& known, const std::string& name, const std::string& digest) {
  const auto [first, last] = known.equal_range(name);
  return std::any_of(first, last, [&](const auto& pair) { return pair.second == digest; });
}

/// A folder below ours is a folder, not a link to somewhere else.
Done check_place(const fs::path& folder, const fs::path& path) {
  const fs::path place = path.parent_path();
  if (place == folder) return {};
  std::error_code ignored;
  const fs::file_status status = fs::symlink_status(place, ignored);
  if (!fs::exists(status) || fs::is_directory(status)) return {};
  return conflict(place, "is there already and is no folder. Move it away, or export to another folder.");
}

Done check_free(const fs::path& folder, const OutFile& file, const Known& known) {
  const fs::path path = folder / file.name;
  if (Done place = check_place(folder, path); !place) return place;
  std::error_code ignored;
  const fs::file_status status = fs::symlink_status(path, ignored);
  if (!fs::exists(status)) return {};
  if (!fs::is_regular_file(status)) {
    return conflict(path, "is there already and is no plain file. Move it away, or export to another folder.");
  }
  const auto there = read_whole(path);
  if (!there) return conflict(path, "cannot be read. Move it away, or export to another folder.");
  if (std::equal(there->begin(), there->end(), file.bytes.begin(), file.bytes.end(),
                 [](std::uint8_t a, char b) { return a == static_cast<std::uint8_t>(b); })) {
    return {};
  }
  if (is_known(known, file.name, digest_of(*there))) return {};
  if (known.contains(file.name)) {
    return conflict(path, "was changed since Jigtime wrote it. Move it away to keep it, or export to another folder.");
  }
  return conflict(path, "is there already and was not written by Jigtime. Move it away, or export to another folder.");
}

/// Two exports that write by turns would leave a list that fits neither.
class FolderLock {
 public:
  static Result<FolderLock> take(const fs::path& folder) {
    FolderLock lock{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
    // Where the disk knows no locks, one goes without.
    if (lock.folder_ < 0 || ::flock(lock.folder_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return lock;
    return Error{Code::busy, "Another export is being written to \"" + to_utf8(folder.string()) +
                                 "\". Wait until it is done, or choose another folder."};
  }
  FolderLock(FolderLock&& other) noexcept : folder_{std::exchange(other.folder_, -1)} {}
  FolderLock& operator=(FolderLock&&) = delete;
  ~FolderLock() {
    if (folder_ >= 0) ::close(folder_);
  }

 private:
  explicit FolderLock(int folder) : folder_{folder} {}
  int folder_ = -1;
};

/// "hours.csv.part4711-2", as PartFile names what it writes: left behind where the machine stopped in between.
bool is_left_over(std::string_view name, const std::set<std::string>& written) {
  constexpr std::string_view ending = ".part";
  const std::size_t at = name.rfind(ending);
  if (at == std::string_view::npos || !written.contains(std::string{name.substr(0, at)})) return false;
  const std::string_view numbers = name.substr(at + ending.size());
  return !numbers.empty() && numbers.find_first_not_of("0123456789-") == std::string_view::npos;
}

/// Precondition: the folder is locked, so nobody is writing them.
void take_away_left_overs(const fs::path& folder, const std::set<std::string>& written) {
  std::vector<fs::path> left_over;
  std::error_code failure;
  for (const fs::path& place : {folder, folder / "chapters"}) {
    if (!fs::is_directory(fs::symlink_status(place, failure)) && place != folder) continue;
    for (fs::directory_iterator entry{place, failure}; !failure && entry != fs::directory_iterator{};
         entry.increment(failure)) {
      const std::string name = entry->path().lexically_relative(folder).generic_string();
      if (is_left_over(name, written) && fs::is_regular_file(entry->symlink_status(failure))) {
        left_over.push_back(entry->path());
      }
    }
  }
  for (const fs::path& path : left_over) fs::remove(path, failure);
}

Done make_folder(const fs::path& folder) {
  std::error_code failure;
  fs::create_directories(folder, failure);
  if (!failure && fs::is_directory(folder, failure)) return {};
  return Error{Code::denied, "The folder \"" + to_utf8(folder.string()) + "\" could not be made (" + failure.message() +
                                 "). Choose another one."};
}

/// Files of an earlier export that are no part of this one.
void take_away_old(const fs::path& folder, const Known& known, const std::set<std::string>& fresh, Written& written) {
  for (const auto& [name, digest] : known) {
    const fs::path path = folder / name;
    std::error_code ignored;
    if (fresh.contains(name) || !fs::is_regular_file(fs::symlink_status(path, ignored))) continue;
    if (!check_place(folder, path)) continue;
    const auto there = read_whole(path);
    if (!there) continue;
    if (digest_of(*there) == digest) {
      fs::remove(path, ignored);
    } else {
      written.notes.push_back("\"" + to_utf8(path.string()) +
                              "\" is of an earlier export and was changed since; it is left where it is.");
    }
  }
}

/// Everything written beside its place and on the disk, the list last; or nothing left behind.
Result<std::vector<PartFile>> stage(const fs::path& folder, const OutFolder& out, const std::string& list) {
  std::vector<PartFile> staged;
  const auto add = [&](const std::string& name, const std::string& bytes) -> Done {
    const fs::path path = folder / name;
    if (Done made = make_folder(path.parent_path()); !made) return made;
    auto file = PartFile::begin(path);
    if (!file) return file.error();
    if (Done done = file->write(bytes); !done) return done;
    if (Done finished = file->finish(); !finished) return finished;
    staged.push_back(*std::move(file));
    return {};
  };
  for (const OutFile& file : out.files) {
    if (Done added = add(file.name, file.bytes); !added) return added.error();
  }
  if (Done added = add(list_name, list); !added) return added.error();
  return staged;
}

Result<Written> write_into(const fs::path& folder, const OutFolder& out) {
  if (Done made = make_folder(folder); !made) return made.error();
  const auto lock = FolderLock::take(folder);
  if (!lock) return lock.error();
  auto known = read_list(folder, out);
  if (!known) return known.error();
  for (const OutFile& file : out.files) {
    if (Done free = check_free(folder, file, *known); !free) return free.error();
  }
  Known fresh;
  std::set<std::string> names;
  Known both = *known;
  for (const OutFile& file : out.files) {
    const std::string digest = store::sha256_hex(file.bytes);
    fresh.emplace(file.name, digest);
    names.insert(file.name);
    if (!is_known(both, file.name, digest)) both.emplace(file.name, digest);
  }
  std::set<std::string> ours = names;
  ours.insert(list_name);
  take_away_left_overs(folder, ours);
  auto staged = stage(folder, out, text_of(out, fresh));
  if (!staged) return staged.error();
  // Old and new digests first: should the machine stop in between, every file is still known as ours.
  if (Done listed = write_whole(folder / list_name, text_of(out, both)); !listed) return listed.error();
  Written written;
  for (PartFile& file : *staged) {
    if (&file == &staged->back()) take_away_old(folder, *known, names, written);
    if (Done placed = file.take_place(); !placed) return placed.error();
    written.files.push_back(file.path());
  }
  return written;
}

}  // namespace

Result<Written> write_folder(const fs::path& folder, const OutFolder& out) {
  std::error_code ignored;
  const bool was_there = fs::exists(fs::symlink_status(folder, ignored));
  auto written = write_into(folder, out);
  if (!written && !was_there) {
    // Only while they are empty.
    fs::remove(folder / "chapters", ignored);
    fs::remove(folder, ignored);
  }
  return written;
}

}  // namespace jigtime::actions
