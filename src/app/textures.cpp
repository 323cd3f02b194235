#include "app/textures.h"

#include <GL/gl.h>

#include <cstdint>
#include <utility>

namespace jigtime::app {
namespace {

std::uint64_t upload_count = 0;

}  // namespace

std::uint64_t Texture::uploads() { return upload_count; }

Texture::Texture(Texture&& other) noexcept { *this = std::move(other); }

Texture& Texture::operator=(Texture&& other) noexcept {
  std::swap(name_, other.name_);
  std::swap(width_, other.width_);
  std::swap(height_, other.height_);
  std::swap(shown_, other.shown_);
  return *this;
}

Texture::~Texture() {
  if (name_ != 0) glDeleteTextures(1, &name_);
}

ImTextureID Texture::id() const {
  return name_ == 0 ? nullptr : reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(name_));
}

void Texture::show(const std::shared_ptr<const Picture>& picture) {
  if (!picture || picture == shown_ || picture->width <= 0 || picture->height <= 0) return;
  if (name_ == 0) glGenTextures(1, &name_);
  glBindTexture(GL_TEXTURE_2D, name_);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  if (picture->width == width_ && picture->height == height_) {
    glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, width_, height_, GL_RGBA, GL_UNSIGNED_BYTE, picture->rgba.data());
  } else {
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    width_ = picture->width;
    height_ = picture->height;
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, width_, height_, 0, GL_RGBA, GL_UNSIGNED_BYTE, picture->rgba.data());
  }
  shown_ = picture;
  ++upload_count;
}

}  // namespace jigtime::app
