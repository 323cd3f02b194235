// Row identities that cannot be mixed up.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>

namespace jigtime {

template <class Tag>
struct Id {
  std::int64_t value = 0;
  friend constexpr auto operator<=>(const Id&, const Id&) = default;
};

}  // namespace jigtime

template <class Tag>
struct std::hash<jigtime::Id<Tag>> {
  std::size_t operator()(const jigtime::Id<Tag>& id) const noexcept { return std::hash<std::int64_t>{}(id.value); }
};
