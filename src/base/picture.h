// One picture in memory.
#pragma once

#include <cstdint>
#include <vector>

namespace jigtime {

/// Rows top to bottom without padding, four bytes a pixel: red, green, blue, 255.
struct Picture {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgba;

  static Picture blank(int width, int height) {
    return {width, height,
            std::vector<std::uint8_t>(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4, 255)};
  }
};

}  // namespace jigtime
