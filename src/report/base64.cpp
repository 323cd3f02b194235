#include "report/base64.h"

#include <string_view>

namespace jigtime::report {

std::string to_base64(std::span<const std::uint8_t> bytes) {
  constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t left = bytes.size() - i;
    const std::uint32_t second = left > 1 ? bytes[i + 1] : 0U;
    const std::uint32_t third = left > 2 ? bytes[i + 2] : 0U;
    const std::uint32_t group = (std::uint32_t{bytes[i]} << 16U) | (second << 8U) | third;
    text += alphabet[group >> 18U];
    text += alphabet[(group >> 12U) & 63U];
    text += left > 1 ? alphabet[(group >> 6U) & 63U] : '=';
    text += left > 2 ? alphabet[group & 63U] : '=';
  }
  return text;
}

}  // namespace jigtime::report
