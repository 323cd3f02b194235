#include "actions/review_copies.h"

#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <set>
#include <string_view>
#include <system_error>

#include "actions/cache.h"
#include "base/text.h"
#include "media/probe.h"
#include "media/small_copy.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

// Another number when copies are made in another way: older ones are then not found, and leave by their age.
constexpr std::string_view ending = ".1.review.mp4";
constexpr std::string_view unfinished = ".making";
// An unfinished copy that nothing has been added to for so long was left behind.
constexpr auto abandoned_after = std::chrono::hours{24};

fs::path folder_or_usual(const fs::path& folder) { return folder.empty() ? review_folder() : folder; }

fs::path name_of(const FileIdentity& identity) { return identity.hex() + std::string{ending}; }

/// Names that only this file gives: hexadecimal digits, then our ending in any version.
bool is_ours(const fs::path& path) {
  const std::string name = path.filename().string();
  const auto digits = static_cast<std::size_t>(
      std::find_if(name.begin(), name.end(), [](unsigned char c) { return std::isxdigit(c) == 0; }) - name.begin());
  return digits >= 32 && name.find(".review.mp4") != std::string::npos;
}

struct Kept {
  fs::path path;
  fs::file_time_type used;
  std::uint64_t bytes = 0;
  bool finished = true;
};

std::vector<Kept> kept_in(const fs::path& folder) {
  std::vector<Kept> kept;
  std::error_code failure;
  for (fs::directory_iterator entry{folder, failure}; !failure && entry != fs::directory_iterator{};
       entry.increment(failure)) {
    std::error_code ignored;
    if (!is_ours(entry->path()) || !entry->is_regular_file(ignored)) continue;
    const std::uint64_t bytes = entry->file_size(ignored);
    if (ignored) continue;
    const bool finished = entry->path().extension() == ".mp4";
    kept.push_back({entry->path(), entry->last_write_time(ignored), bytes, finished});
  }
  std::sort(kept.begin(), kept.end(), [](const Kept& a, const Kept& b) { return a.used < b.used; });
  return kept;
}

/// Removes the longest unused ones that are not in `needed`. Returns how much is left.
std::uint64_t trim(const fs::path& folder, std::uint64_t most_bytes, const std::set<fs::path>& needed) {
  std::uint64_t total = 0;
  const std::vector<Kept> all = kept_in(folder);
  for (const Kept& one : all) total += one.bytes;
  const auto now = fs::file_time_type::clock::now();
  for (const Kept& one : all) {
    const bool left_behind = !one.finished && now - one.used > abandoned_after;
    const bool may_go = one.finished && total > most_bytes && needed.count(one.path) == 0;
    std::error_code ignored;
    if ((left_behind || may_go) && fs::remove(one.path, ignored)) total -= one.bytes;
  }
  return total;
}

struct Wanted {
  const journal::Part* part;
  fs::path copy;
};

std::vector<Wanted> wanted_of(const std::vector<journal::Clip>& clips, const fs::path& folder) {
  std::vector<Wanted> wanted;
  for (const journal::Clip& clip : clips) {
    if (!clip.pictures || clip.let_go) continue;
    for (const journal::Part& part : clip.parts) wanted.push_back({&part, folder / name_of(part.identity)});
  }
  return wanted;
}

Done check_source(const journal::Part& part) {
  const auto identity = media::identify(part.path);
  if (!identity) return identity.error();
  if (*identity == part.identity) return {};
  return Error{Code::not_found, "In the place of " + to_utf8(part.path.filename().string()) +
                                    " lies another file now. Look for the right one with --look-in FOLDER."};
}

/// The copy as a whole or not at all. Returns what was left out of it.
Result<std::string> make_one(const Wanted& wanted, const CopySettings& settings, const Watch& watch,
                             const std::function<void(ClipTime)>& reached) {
  if (const Done same = check_source(*wanted.part); !same) return same.error();
  fs::path making = wanted.copy;
  making += std::string{unfinished} + std::to_string(::getpid());
  const media::SmallCopySettings small{settings.width, settings.key_every, std::max(watch.threads - 1, 1)};
  auto made = media::write_small_copy(wanted.part->path, making, small, watch.stop, reached);
  std::error_code failure;
  if (made) fs::rename(making, wanted.copy, failure);
  if (made && failure) made = Error{Code::denied, "The copy cannot be given its name: " + failure.message() + "."};
  std::error_code ignored;
  if (!made) fs::remove(making, ignored);
  return made;
}

/// Failures that the next file would meet too.
bool ends_everything(const Error& error) {
  return error.code() == Code::cancelled || error.code() == Code::no_space || error.code() == Code::denied;
}

}  // namespace

fs::path review_folder() { return cache_folder() / "review"; }

std::optional<fs::path> find_review_copy(const FileIdentity& source, const fs::path& folder) {
  fs::path copy = folder_or_usual(folder) / name_of(source);
  std::error_code failure;
  if (!fs::is_regular_file(copy, failure)) return std::nullopt;
  fs::last_write_time(copy, fs::file_time_type::clock::now(), failure);
  return copy;
}

Result<CopiesReport> make_review_copies(const std::vector<journal::Clip>& clips, const CopySettings& settings,
                                        const Watch& watch) {
  const fs::path folder = folder_or_usual(settings.folder);
  std::error_code failure;
  fs::create_directories(folder, failure);
  if (failure) {
    return Error{Code::denied, "The folder for review copies (" + to_utf8(folder.string()) +
                                   ") cannot be made: " + failure.message() + "."};
  }
  const std::vector<Wanted> wanted = wanted_of(clips, folder);
  std::set<fs::path> needed;
  Length whole{0};
  for (const Wanted& one : wanted) {
    needed.insert(one.copy);
    whole += one.part->length;
  }
  CopiesReport report;
  Length before{0};
  for (const Wanted& one : wanted) {
    const std::string name = to_utf8(one.part->path.filename().string());
    Length told{-1};
    const auto reached = [&](ClipTime at) {
      const Length at_least = at.time_since_epoch() - told;
      if (at_least < std::chrono::seconds{1} && told >= Length{0}) return;
      told = at.time_since_epoch();
      watch.tell(to_seconds(before + told) / std::max(to_seconds(whole), 1e-3), "Review copy of " + name);
    };
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "Stopped. Finished review copies stay."};
    if (find_review_copy(one.part->identity, folder)) {
      ++report.known_already;
    } else {
      const auto made = make_one(one, settings, watch, reached);
      if (!made && ends_everything(made.error())) return made.error().during("Review copy of " + name);
      if (!made) report.notes.push_back(name + ": " + made.error().message());
      if (made && !made->empty()) report.notes.push_back(name + ": " + *made);
      if (made) ++report.made;
      if (made && trim(folder, settings.most_bytes, needed) > settings.most_bytes) {
        fs::remove(one.copy, failure);
        --report.made;
        report.notes.push_back("Review copies may take " + std::to_string(settings.most_bytes >> 20U) +
                               " MB, and that is full: from " + name +
                               " on the footage itself is shown. Allow more space in the settings.");
        return report;
      }
    }
    before += one.part->length;
  }
  return report;
}

void drop_review_copy(const fs::path& copy) {
  std::error_code ignored;
  if (is_ours(copy)) fs::remove(copy, ignored);
}

void trim_review_copies(std::uint64_t most_bytes, const fs::path& folder) {
  trim(folder_or_usual(folder), most_bytes, {});
}

}  // namespace jigtime::actions
