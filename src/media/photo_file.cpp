#include "media/photo_file.h"

#include <algorithm>
#include <string_view>

namespace jigtime::media {
namespace {

using Bytes = std::span<const std::uint8_t>;

bool begins(Bytes bytes, std::string_view mark, std::size_t at = 0) {
  if (bytes.size() < at + mark.size()) return false;
  return std::equal(mark.begin(), mark.end(), bytes.begin() + static_cast<std::ptrdiff_t>(at),
                    [](char a, std::uint8_t b) { return static_cast<std::uint8_t>(a) == b; });
}

/// Takes numbers off the front, highest byte first. What is beyond the end is 0 and leaves `whole` false.
class Front {
 public:
  explicit Front(Bytes bytes) : bytes_{bytes} {}

  std::uint64_t number(std::size_t size) {
    if (size > bytes_.size()) {
      whole_ = false;
      bytes_ = {};
      return 0;
    }
    std::uint64_t value = 0;
    for (std::size_t i = 0; i < size; ++i) value = value << 8U | bytes_[i];
    bytes_ = bytes_.subspan(size);
    return value;
  }
  void skip(std::size_t size) {
    whole_ = whole_ && size <= bytes_.size();
    bytes_ = bytes_.subspan(std::min(size, bytes_.size()));
  }
  bool whole() const { return whole_; }
  Bytes rest() const { return bytes_; }

 private:
  Bytes bytes_;
  bool whole_ = true;
};

/// Calls `seen(type, body)` for each box, as far as they are whole; `seen` says whether to go on.
template <class Seen>
void each_box(Bytes bytes, Seen seen) {
  while (bytes.size() >= 8) {
    Front front{bytes};
    std::uint64_t size = front.number(4);
    std::size_t head = 8;
    const std::uint64_t type = front.number(4);
    if (size == 1) {
      size = front.number(8);
      head = 16;
    } else if (size == 0) {
      size = bytes.size();
    }
    if (!front.whole() || size < head || size > bytes.size()) return;
    if (!seen(type, bytes.subspan(head, static_cast<std::size_t>(size) - head))) return;
    bytes = bytes.subspan(static_cast<std::size_t>(size));
  }
}

constexpr std::uint64_t box(const char (&name)[5]) {
  std::uint64_t type = 0;
  for (int i = 0; i < 4; ++i) type = type << 8U | static_cast<std::uint8_t>(name[i]);
  return type;
}

/// Body of the first box of that type; empty when there is none.
Bytes child(Bytes bytes, std::uint64_t wanted) {
  Bytes found;
  each_box(bytes, [&](std::uint64_t type, Bytes body) {
    if (type != wanted) return true;
    found = body;
    return false;
  });
  return found;
}

/// The id of the item of type "Exif".
std::optional<std::uint64_t> exif_item(Bytes item_infos) {
  Front front{item_infos};
  const std::uint64_t version = front.number(1);
  front.skip(3);
  front.skip(version == 0 ? 2 : 4);
  std::optional<std::uint64_t> id;
  each_box(front.rest(), [&](std::uint64_t type, Bytes body) {
    if (type != box("infe")) return true;
    Front entry{body};
    const std::uint64_t entry_version = entry.number(1);
    entry.skip(3);
    if (entry_version != 2 && entry_version != 3) return true;
    const std::uint64_t item = entry.number(entry_version == 2 ? 2 : 4);
    entry.skip(2);
    if (entry.number(4) != box("Exif") || !entry.whole()) return true;
    id = item;
    return false;
  });
  return id;
}

/// Where an item's first extent lies in the file.
std::optional<Stretch> item_place(Bytes locations, std::uint64_t wanted) {
  Front front{locations};
  const std::uint64_t version = front.number(1);
  front.skip(3);
  const std::uint64_t sizes = front.number(2);
  const auto nibble = [&](unsigned shift) { return static_cast<std::size_t>(sizes >> shift & 0xFU); };
  const std::size_t index_size = version == 0 ? 0 : nibble(0);
  if (version > 2) return std::nullopt;
  const std::uint64_t count = front.number(version < 2 ? 2 : 4);
  for (std::uint64_t i = 0; i < count && front.whole(); ++i) {
    const std::uint64_t item = front.number(version < 2 ? 2 : 4);
    const std::uint64_t method = version == 0 ? 0 : front.number(2) & 0xFU;
    front.skip(2);
    const std::uint64_t base = front.number(nibble(4));
    const std::uint64_t extents = front.number(2);
    for (std::uint64_t k = 0; k < extents && front.whole(); ++k) {
      front.skip(index_size);
      const std::uint64_t offset = front.number(nibble(12));
      const std::uint64_t size = front.number(nibble(8));
      if (item != wanted || k > 0 || method != 0 || !front.whole()) continue;
      if (base > UINT64_MAX - offset) return std::nullopt;
      return Stretch{base + offset, size};
    }
  }
  return std::nullopt;
}

std::optional<Stretch> exif_of_heif(Bytes head) {
  const Bytes meta = child(head, box("meta"));
  if (meta.size() < 4) return std::nullopt;
  const Bytes children = meta.subspan(4);
  const auto item = exif_item(child(children, box("iinf")));
  return item ? item_place(child(children, box("iloc")), *item) : std::nullopt;
}

std::optional<Stretch> exif_of_png(Bytes head) {
  std::size_t at = 8;
  while (head.size() - at >= 8) {
    Front front{head.subspan(at)};
    const std::uint64_t size = front.number(4);
    if (front.number(4) == box("eXIf")) return Stretch{at + 8, size};
    // Length, type and checksum stand around the data.
    if (size > head.size() || head.size() - at < size + 12) return std::nullopt;
    at += static_cast<std::size_t>(size) + 12;
  }
  return std::nullopt;
}

bool is_still_brand(Bytes head, std::size_t at) {
  for (const char* brand : {"heic", "heix", "heim", "heis", "mif1", "avif"}) {
    if (begins(head, brand, at)) return true;
  }
  return false;
}

bool is_tiff(Bytes bytes) {
  using namespace std::string_view_literals;
  return begins(bytes, "II*\0"sv) || begins(bytes, "MM\0*"sv);
}

}  // namespace

std::optional<PhotoKind> photo_kind(Bytes head) {
  if (begins(head, "\xFF\xD8\xFF")) return PhotoKind::jpeg;
  if (begins(head, "\x89PNG\r\n\x1A\n")) return PhotoKind::png;
  if (is_tiff(head)) return PhotoKind::tiff;
  if (begins(head, "ftyp", 4) && is_still_brand(head, 8)) return PhotoKind::heif;
  return std::nullopt;
}

std::optional<Stretch> find_exif(PhotoKind kind, Bytes head) {
  switch (kind) {
    case PhotoKind::tiff: return Stretch{0, head.size()};
    case PhotoKind::png: return exif_of_png(head);
    case PhotoKind::heif: return exif_of_heif(head);
    case PhotoKind::jpeg: break;
  }
  return std::nullopt;
}

std::vector<std::uint8_t> exif_block(PhotoKind kind, Bytes stretch) {
  if (kind == PhotoKind::heif) {
    Front front{stretch};
    const std::uint64_t skipped = front.number(4);
    if (!front.whole() || skipped > front.rest().size()) return {};
    stretch = front.rest().subspan(static_cast<std::size_t>(skipped));
  }
  if (!is_tiff(stretch)) return {};
  std::vector<std::uint8_t> block{'E', 'x', 'i', 'f', 0, 0};
  block.insert(block.end(), stretch.begin(), stretch.end());
  return block;
}

}  // namespace jigtime::media
