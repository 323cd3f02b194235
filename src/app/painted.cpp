#include "app/painted.h"

#include <functional>
#include <string_view>

namespace jigtime::app {
namespace {

class Digest {
 public:
  template <class Value>
  void add(const Value& value) {
    join(std::hash<Value>{}(value));
  }
  template <class Item>
  void add_all(const ImVector<Item>& items) {
    join(std::hash<std::string_view>{}(
        {reinterpret_cast<const char*>(items.Data), static_cast<std::size_t>(items.size_in_bytes())}));
  }
  std::uint64_t value() const { return value_; }

 private:
  /// Order counts. The constant is 2 to the 64 divided by the golden ratio.
  void join(std::uint64_t part) { value_ = (value_ ^ part) * 0x9E3779B97F4A7C15ULL + (value_ >> 29U); }

  std::uint64_t value_ = 0;
};

void add_list(Digest& digest, const ImDrawList& list) {
  digest.add_all(list.VtxBuffer);
  digest.add_all(list.IdxBuffer);
  for (const ImDrawCmd& command : list.CmdBuffer) {
    for (const float edge : {command.ClipRect.x, command.ClipRect.y, command.ClipRect.z, command.ClipRect.w})
      digest.add(edge);
    digest.add(command.TextureId);
    digest.add(command.ElemCount);
  }
}

}  // namespace

bool Painted::differs(const ImDrawData& frame, std::uint64_t pictures) {
  Digest digest;
  digest.add(pictures);
  digest.add(frame.DisplaySize.x);
  digest.add(frame.DisplaySize.y);
  for (int i = 0; i < frame.CmdListsCount; ++i) add_list(digest, *frame.CmdLists[i]);
  if (last_ == digest.value()) return false;
  last_ = digest.value();
  return true;
}

}  // namespace jigtime::app
