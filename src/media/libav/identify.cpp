#include <algorithm>
#include <array>
#include <memory>
#include <vector>

extern "C" {
#include <libavutil/mem.h>
#include <libavutil/sha.h>
}

#include "media/libav/error.h"
#include "media/libav/file_io.h"
#include "media/probe.h"

namespace jigtime::media {
namespace {

constexpr std::int64_t end_bytes = 64 * 1024;

struct FreeDeleter {
  void operator()(AVSHA* hash) const { av_free(hash); }
};

Done add(FileIo& file, std::int64_t from, std::int64_t count, AVSHA& hash) {
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(count));
  std::int64_t done = 0;
  while (done < count) {
    const int got = file.read_at(from + done, bytes.data() + done, static_cast<int>(count - done));
    if (got < 0) return from_libav(got, "The file cannot be read");
    if (got == 0) return Error{Code::busy, "The file became shorter while it was read. Wait until it is copied."};
    done += got;
  }
  av_sha_update(&hash, bytes.data(), bytes.size());
  return {};
}

}  // namespace

Result<FileIdentity> identify(const std::filesystem::path& path) {
  Result<std::unique_ptr<FileIo>> opened = FileIo::read(path, {});
  if (!opened) return opened.error();
  FileIo& file = **opened;
  const std::unique_ptr<AVSHA, FreeDeleter> hash{av_sha_alloc()};
  if (hash == nullptr || av_sha_init(hash.get(), 256) < 0) {
    return Error{Code::internal, "There is not enough memory for a digest."};
  }
  FileIdentity identity;
  identity.size_bytes = static_cast<std::uint64_t>(file.size());
  std::array<std::uint8_t, 8> size{};
  for (std::size_t i = 0; i < size.size(); ++i) size[i] = static_cast<std::uint8_t>(identity.size_bytes >> (8 * i));
  av_sha_update(hash.get(), size.data(), size.size());
  const std::int64_t head = std::min(end_bytes, file.size());
  const std::int64_t tail = std::min(end_bytes, file.size() - head);
  if (const Done added = add(file, 0, head, *hash); !added) return added.error();
  if (const Done added = add(file, file.size() - tail, tail, *hash); !added) return added.error();
  av_sha_final(hash.get(), identity.digest.data());
  return identity;
}

}  // namespace jigtime::media
