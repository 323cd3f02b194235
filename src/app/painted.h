// Whether a frame would look like the one that is on the screen: then painting it again is time lost to the pictures
// that are being fetched.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <optional>

namespace jigtime::app {

class Painted {
 public:
  /// `pictures`: Texture::uploads, since a picture changes behind the same name. Remembers the frame as painted.
  bool differs(const ImDrawData& frame, std::uint64_t pictures);
  /// What is on the screen is not known any more: the next frame differs.
  void forget() { last_.reset(); }

 private:
  std::optional<std::uint64_t> last_;
};

}  // namespace jigtime::app
