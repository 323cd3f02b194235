#include "actions/listen.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <optional>

#include "actions/cache.h"
#include "actions/stored_sound.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "media/sound_reader.h"
#include "store/store.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

constexpr int rate_hz = sync::sample_rate_hz;
/// Counted up when the way sound becomes samples changes.
constexpr int sound_version = 2;
/// Stamps that skip less than this are put down to how containers round.
constexpr Length least_missing = std::chrono::milliseconds{15};

std::int64_t to_sample(Length length) { return scaled(length.count(), rate_hz, one_in_ppb); }
Length to_length(std::int64_t samples) { return Length{scaled(samples, one_in_ppb, rate_hz)}; }

/// Takes samples in order of time, fills gaps with silence, and makes the features on the way.
class Recorder {
 public:
  explicit Recorder(int file) : file_{file} {}

  std::optional<ClipTime> origin() const { return origin_; }
  std::int64_t count() const { return count_; }
  std::vector<ClipRange> take_missing() { return std::move(missing_); }
  sync::Features finish() { return maker_->finish(); }

  /// `part_from` is the clip time of the part's zero; samples that overlap what is there already are dropped.
  Done add(ClipTime part_from, const SoundBlock& block, bool first_of_part) {
    const ClipTime start = part_from + block.start.time_since_epoch();
    if (!origin_) {
      origin_ = start;
      maker_.emplace(start);
    }
    std::span<const float> samples = block.samples;
    const std::int64_t ahead = to_sample(start - *origin_) - count_;
    // Within a part, blocks that follow each other are counted on; a jump of the stamps is larger than this.
    if (first_of_part || ahead > least_jump || ahead < -least_jump) {
      if (ahead < 0) {
        samples = samples.subspan(std::min(samples.size(), static_cast<std::size_t>(-ahead)));
      } else if (const Done filled = fill(count_ + ahead, first_of_part); !filled) {
        return filled;
      }
    }
    return write(samples);
  }

 private:
  static constexpr std::int64_t least_jump = rate_hz / 250;

  Done fill(std::int64_t until, bool first_of_part) {
    const Length gap = to_length(until - count_);
    if (gap >= least_missing && !first_of_part) {
      if (const auto range = ClipRange::make(*origin_ + to_length(count_), *origin_ + to_length(until)))
        missing_.push_back(*range);
    }
    const std::array<float, 4096> silence{};
    while (count_ < until) {
      const auto length = static_cast<std::size_t>(std::min<std::int64_t>(until - count_, std::ssize(silence)));
      if (const Done written = write(std::span{silence}.first(length)); !written) return written;
    }
    return {};
  }

  Done write(std::span<const float> samples) {
    if (samples.empty()) return {};
    maker_->add(samples);
    to_16_bits(samples, buffer_);
    count_ += std::ssize(samples);
    return write_bytes(reinterpret_cast<const char*>(buffer_.data()), buffer_.size() * sizeof(std::int16_t));
  }

  Done write_bytes(const char* bytes, std::size_t length) {
    while (length > 0) {
      const ssize_t written = ::write(file_, bytes, length);
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) {
        return Error{errno == ENOSPC ? Code::no_space : Code::internal,
                     std::string{"The sound could not be kept for the line-up ("} + std::strerror(errno) +
                         "). Free some space: about 115 MB for an hour of footage."};
      }
      bytes += written;
      length -= static_cast<std::size_t>(written);
    }
    return {};
  }

  int file_;
  std::optional<ClipTime> origin_;
  std::optional<sync::FeatureMaker> maker_;
  std::int64_t count_ = 0;
  std::vector<ClipRange> missing_;
  std::vector<std::int16_t> buffer_;
};

/// Reads one part into the recorder. True when it had any sound.
Result<bool> record_part(const journal::Part& part, Recorder& recorder, const std::stop_token& stop,
                         std::vector<std::string>& notes) {
  const std::string name = part.path.filename().string();
  auto reader = media::SoundReader::open(part.path, rate_hz, stop);
  if (!reader) {
    if (reader.error().code() == Code::cancelled) return reader.error();
    notes.push_back(name + " could not be heard: " + reader.error().message());
    return false;
  }
  bool first = true;
  while (true) {
    if (stop.stop_requested()) return Error{Code::cancelled, "The line-up was stopped. The journal is as it was."};
    const auto block = reader->next();
    if (!block) {
      if (block.error().code() == Code::cancelled) return block.error();
      notes.push_back(name + " could only be heard up to a damaged place: " + block.error().message());
      break;
    }
    if (!*block) break;
    if (const Done added = recorder.add(part.clip_from, **block, first); !added) return added.error();
    first = false;
  }
  if (reader->broke_off()) notes.push_back(name + " breaks off before its end; what is there was used.");
  return !first;
}

/// The features file: a text line with the numbers, then the bytes.
std::string packed(const Heard& heard) {
  std::string text = "jigtime " + std::to_string(heard.sound->origin().time_since_epoch().count()) + " " +
                     std::to_string(heard.sound->count()) + " " +
                     std::to_string(heard.features.origin.time_since_epoch().count()) + " " +
                     std::to_string(heard.features.frames) + " " + std::to_string(heard.features.bytes.size());
  for (const ClipRange& range : heard.missing) {
    text += " " + std::to_string(range.begin().time_since_epoch().count()) + " " +
            std::to_string(range.end().time_since_epoch().count());
  }
  text += "\n";
  text.append(reinterpret_cast<const char*>(heard.features.bytes.data()), heard.features.bytes.size());
  return text + store::sha256_hex(text);
}

std::optional<std::int64_t> number_in(const std::vector<std::string>& fields, std::size_t index) {
  if (index >= fields.size() || fields[index].empty() || fields[index].size() > 20) return std::nullopt;
  errno = 0;
  char* end = nullptr;
  const long long value = std::strtoll(fields[index].c_str(), &end, 10);
  if (errno != 0 || end != fields[index].c_str() + fields[index].size()) return std::nullopt;
  return value;
}

/// What packed() wrote, unless the cache is garbled in any way.
std::optional<Heard> unpacked(const fs::path& features_path, const fs::path& sound_path) {
  const auto bytes = read_whole(features_path);
  if (!bytes || bytes->size() < store::sha256_hex_length) return std::nullopt;
  const std::string_view all{reinterpret_cast<const char*>(bytes->data()), bytes->size()};
  const std::string_view text = all.substr(0, all.size() - store::sha256_hex_length);
  const std::size_t line = text.find('\n');
  if (line == std::string_view::npos || store::sha256_hex(text) != all.substr(text.size())) return std::nullopt;
  const auto fields = split(text.substr(0, line), ' ');
  const auto origin = number_in(fields, 1);
  const auto count = number_in(fields, 2);
  const auto features_origin = number_in(fields, 3);
  const auto frames = number_in(fields, 4);
  if (!origin || !count || !features_origin || !frames) return std::nullopt;

  Heard heard;
  heard.features.origin = ClipTime{Length{*features_origin}};
  heard.features.frames = static_cast<int>(*frames);
  const std::string_view rest = text.substr(line + 1);
  heard.features.bytes.assign(rest.begin(), rest.end());
  for (std::size_t i = 6; i + 1 < fields.size(); i += 2) {
    const auto begin = number_in(fields, i);
    const auto end = number_in(fields, i + 1);
    if (!begin || !end) return std::nullopt;
    if (const auto range = ClipRange::make(ClipTime{Length{*begin}}, ClipTime{Length{*end}}))
      heard.missing.push_back(*range);
  }

  const int file = ::open(sound_path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) return std::nullopt;
  heard.sound = std::make_unique<StoredSound>(file, ClipTime{Length{*origin}}, *count);
  struct stat facts {};
  if (::fstat(file, &facts) != 0 || facts.st_size != *count * std::int64_t{sizeof(std::int16_t)}) return std::nullopt;
  std::error_code ignored;  // marks both as used, so that trimming takes older ones first
  fs::last_write_time(sound_path, fs::file_time_type::clock::now(), ignored);
  fs::last_write_time(features_path, fs::file_time_type::clock::now(), ignored);
  heard.from_cache = true;
  return heard;
}

/// A file to record into: in the cache, else without a name in the folder for temporary files.
struct Spool {
  int file = -1;
  fs::path path;  ///< empty when it has no name
};

Spool open_spool(const fs::path& sound_path) {
  static std::atomic<int> serial{0};
  std::error_code failure;
  fs::create_directories(sound_path.parent_path(), failure);
  fs::path beside = sound_path;
  beside += ".part" + std::to_string(::getpid()) + "-" + std::to_string(serial.fetch_add(1));
  const int file = ::open(beside.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
  if (file >= 0) return {file, beside};
  std::string name = (fs::temp_directory_path(failure) / "jigtime-sound-XXXXXX").string();
  const int nameless = ::mkostemp(name.data(), O_CLOEXEC);
  if (nameless >= 0) ::unlink(name.c_str());
  return {nameless, {}};
}

}  // namespace

std::optional<Heard> kept_sound(const journal::Clip& clip) {
  if (!clip.sound) return std::nullopt;
  const std::string base = (cache_folder() / sound_key(clip)).string();
  return unpacked(base + ".features", base + ".sound");
}

std::string sound_key(const journal::Clip& clip) {
  std::string text =
      std::to_string(sound_version) + " " + std::to_string(sync::Features::version) + " " + std::to_string(rate_hz);
  for (const journal::Part& part : clip.parts) {
    text += " " + part.identity.hex() + " " + std::to_string(part.clip_from.time_since_epoch().count());
  }
  return store::sha256_hex(text).substr(0, 40);
}

Result<Heard> listen(const journal::Clip& clip, const std::stop_token& stop, std::vector<std::string>& notes) {
  if (!clip.sound) return Error{Code::not_found, "The clip has no sound."};
  const fs::path base = cache_folder() / sound_key(clip);
  const fs::path sound_path = base.string() + ".sound";
  const fs::path features_path = base.string() + ".features";
  if (auto kept = unpacked(features_path, sound_path)) return std::move(*kept);

  const Spool spool = open_spool(sound_path);
  if (spool.file < 0)
    return Error{Code::no_space, "There is no folder to keep the sound in while lining up. Free some space."};
  // From here on the sound owns the file; a failure below removes its name.
  Recorder recorder{spool.file};
  bool heard_any = false;
  std::optional<Error> failure;
  for (const journal::Part& part : clip.parts) {
    const auto heard = record_part(part, recorder, stop, notes);
    if (!heard) {
      failure = heard.error();
      break;
    }
    heard_any = heard_any || *heard;
  }
  if (!failure && !heard_any) failure = Error{Code::unreadable, "No sound could be decoded from " + clip.name() + "."};
  if (failure) {
    ::close(spool.file);
    if (!spool.path.empty()) ::unlink(spool.path.c_str());
    return *failure;
  }

  Heard heard;
  heard.sound = std::make_unique<StoredSound>(spool.file, *recorder.origin(), recorder.count());
  heard.features = recorder.finish();
  heard.missing = recorder.take_missing();
  if (!spool.path.empty()) {
    // The sound first: features without their sound are no use, the reverse is only made again.
    if (::rename(spool.path.c_str(), sound_path.c_str()) == 0) {
      const Done kept = write_whole(features_path, packed(heard));
      if (!kept) ::unlink(sound_path.c_str());
    } else {
      ::unlink(spool.path.c_str());
    }
  }
  return heard;
}

}  // namespace jigtime::actions
