// Bytes inside a page: RFC 4648, section 4.
// Must never know: what the bytes are.
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace jigtime::report {

/// Standard alphabet, padded, one line.
std::string to_base64(std::span<const std::uint8_t> bytes);

}  // namespace jigtime::report
