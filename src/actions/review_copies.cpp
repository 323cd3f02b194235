#include "actions/review_copies.h"

#include "actions/cache.h"

namespace jigtime::actions {

std::filesystem::path review_folder() { return cache_folder() / "review"; }
std::optional<std::filesystem::path> find_review_copy(const FileIdentity&, const std::filesystem::path&) {
  return std::nullopt;
}
Result<CopiesReport> make_review_copies(const std::vector<journal::Clip>&, const CopySettings&, const Watch&) {
  return CopiesReport{};
}
void drop_review_copy(const std::filesystem::path&) {}
void trim_review_copies(std::uint64_t, const std::filesystem::path&) {}

}  // namespace jigtime::actions
