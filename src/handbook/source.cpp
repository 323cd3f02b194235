#include "handbook/source.h"

namespace jigtime::handbook {

std::string_view to_text(Seen seen) {
  switch (seen) {
    case Seen::seen: return "seen";
    case Seen::quoted: return "as quoted elsewhere";
    case Seen::memory: return "from memory, not checked against a document";
    case Seen::computed: return "computed";
  }
  return "from memory, not checked against a document";
}

std::string to_text(const Source& source) {
  if (source.name.empty()) return std::string{to_text(source.seen)};
  std::string text{source.name};
  if (source.seen != Seen::seen) text.append(", ").append(to_text(source.seen));
  return text;
}

}  // namespace jigtime::handbook
