#include "app/view/abridged.h"

namespace jigtime::app {
namespace {

constexpr std::string_view dots = "...";
/// Widths are sums of fractions of a pixel.
constexpr float rounding = 1;

bool inside_letter(std::string_view text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
}

/// The longest begin that fits: texts are short, so a bisection over bytes, then back to the begin of a letter.
std::string_view begin_within(std::string_view text, float room, const TextWidth& wide) {
  std::size_t low = 0;
  std::size_t high = text.size();
  while (low < high) {
    const std::size_t middle = (low + high + 1) / 2;
    if (wide(text.substr(0, middle)) <= room) {
      low = middle;
    } else {
      high = middle - 1;
    }
  }
  while (low > 0 && inside_letter(text, low)) --low;
  return text.substr(0, low);
}

std::string_view end_within(std::string_view text, float room, const TextWidth& wide) {
  std::size_t low = 0;
  std::size_t high = text.size();
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    if (wide(text.substr(middle)) <= room) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  while (inside_letter(text, low)) ++low;
  return text.substr(low);
}

std::string joined(std::string_view head, std::string_view tail) {
  if (head.empty() && tail.empty()) return {};
  return std::string{head} + std::string{dots} + std::string{tail};
}

}  // namespace

std::string cut_at_end(std::string_view text, float width, const TextWidth& wide) {
  if (wide(text) <= width + rounding) return std::string{text};
  return joined(begin_within(text, width - wide(dots), wide), {});
}

std::string cut_in_middle(std::string_view text, float width, const TextWidth& wide) {
  if (wide(text) <= width + rounding) return std::string{text};
  const float room = width - wide(dots);
  const std::string_view tail = end_within(text, room / 2, wide);
  const std::string_view rest = text.substr(0, text.size() - tail.size());
  return joined(begin_within(rest, room - wide(tail), wide), tail);
}

std::string cut_path(std::string_view path, float width, const TextWidth& wide) {
  if (wide(path) <= width + rounding) return std::string{path};
  const std::size_t slash = path.find_last_of('/');
  if (slash == std::string_view::npos) return cut_in_middle(path, width, wide);
  const std::string_view name = path.substr(slash);
  const float room = width - wide(dots) - wide(name);
  if (room < 0) return cut_in_middle(name.substr(1), width, wide);
  return joined(begin_within(path.substr(0, slash), room, wide), name);
}

}  // namespace jigtime::app
