// Pictures on the graphics card.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <memory>

#include "base/picture.h"

namespace jigtime::app {

/// One picture that changes. Used on the window's thread while its context is current.
class Texture {
 public:
  Texture() = default;
  Texture(Texture&& other) noexcept;
  Texture& operator=(Texture&& other) noexcept;
  Texture(const Texture&) = delete;
  Texture& operator=(const Texture&) = delete;
  ~Texture();

  /// Uploads it unless it is the one that is there.
  void show(const std::shared_ptr<const Picture>& picture);
  /// Nothing while there is no picture.
  ImTextureID id() const;
  float width() const { return static_cast<float>(width_); }
  float height() const { return static_cast<float>(height_); }
  /// Of all textures, since the program began.
  static std::uint64_t uploads();

 private:
  unsigned int name_ = 0;
  int width_ = 0;
  int height_ = 0;
  std::shared_ptr<const Picture> shown_;
};

}  // namespace jigtime::app
