#include "actions/pair_shelf.h"

#include <array>
#include <cstring>
#include <string_view>
#include <utility>

#include "actions/cache.h"
#include "actions/whole_file.h"
#include "store/store.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

/// First line of every file; another version of the line-up does not read it.
std::string title() {
  return "jigtime pairs " + std::to_string(sync::PairMemory::version) + " " + std::to_string(sync::Features::version) +
         "\n";
}

fs::path path_of(const std::string& key) { return cache_folder() / (key + ".pairs"); }

std::string packed(const std::map<std::string, std::vector<std::uint8_t>>& facts) {
  std::string text = title();
  for (const auto& [key, bytes] : facts) {
    const auto size = static_cast<std::uint32_t>(bytes.size());
    std::array<char, sizeof size> raw{};
    std::memcpy(raw.data(), &size, sizeof size);
    text += key + "\n";
    text.append(raw.data(), raw.size());
    text.append(reinterpret_cast<const char*>(bytes.data()), bytes.size());
  }
  return text + store::sha256_hex(text);
}

/// Takes the first `count` bytes off; nothing when there are fewer.
std::optional<std::string_view> take(std::string_view& rest, std::size_t count) {
  if (rest.size() < count) return std::nullopt;
  const std::string_view taken = rest.substr(0, count);
  rest.remove_prefix(count);
  return taken;
}

std::map<std::string, std::vector<std::uint8_t>> unpacked(std::string_view all) {
  std::map<std::string, std::vector<std::uint8_t>> facts;
  const std::string first = title();
  if (all.size() < first.size() + store::sha256_hex_length || all.substr(0, first.size()) != first) return facts;
  std::string_view rest = all.substr(0, all.size() - store::sha256_hex_length);
  if (store::sha256_hex(rest) != all.substr(rest.size())) return facts;
  rest.remove_prefix(first.size());
  while (!rest.empty()) {
    const std::size_t line = rest.find('\n');
    const auto key = line == std::string_view::npos ? std::nullopt : take(rest, line + 1);
    const auto raw = key ? take(rest, sizeof(std::uint32_t)) : std::nullopt;
    if (!raw) break;
    std::uint32_t size = 0;
    std::memcpy(&size, raw->data(), sizeof size);
    const auto bytes = take(rest, size);
    if (!bytes) break;
    facts[std::string{key->substr(0, key->size() - 1)}].assign(bytes->begin(), bytes->end());
  }
  return facts;
}

}  // namespace

PairShelf::PairShelf(std::vector<std::string> keys) : keys_{std::move(keys)} {
  for (const std::string& key : keys_) {
    if (key.empty() || shelf_.contains(key)) continue;
    const auto bytes = read_whole(path_of(key));
    Facts& facts = shelf_[key];
    if (bytes) facts = unpacked({reinterpret_cast<const char*>(bytes->data()), bytes->size()});
  }
}

std::optional<std::vector<std::uint8_t>> PairShelf::recall(int clip_a, int clip_b) {
  const Facts& facts = shelf_[keys_[static_cast<std::size_t>(clip_a)]];
  const auto found = facts.find(keys_[static_cast<std::size_t>(clip_b)]);
  if (found == facts.end()) return std::nullopt;
  return found->second;
}

void PairShelf::keep(int clip_a, int clip_b, std::vector<std::uint8_t> facts) {
  const std::string& key = keys_[static_cast<std::size_t>(clip_a)];
  shelf_[key][keys_[static_cast<std::size_t>(clip_b)]] = std::move(facts);
  changed_[key] = true;
}

void PairShelf::save() const {
  for (const auto& [key, changed] : changed_) {
    if (!changed || key.empty()) continue;
    const Done kept = write_whole(path_of(key), packed(shelf_.at(key)));
    if (!kept) return;
  }
}

}  // namespace jigtime::actions
