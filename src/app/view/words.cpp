#include "app/view/words.h"

#include <array>

namespace jigtime::app {
namespace {

constexpr std::array texts{
#define JIGTIME_WORD(name, text) text,
    JIGTIME_WORDS(JIGTIME_WORD)
#undef JIGTIME_WORD
};

}  // namespace

const char* say(Word word) { return texts.at(static_cast<std::size_t>(word)); }

std::string say(Word word, std::initializer_list<std::string> values) {
  const std::string_view pattern = say(word);
  std::string text;
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    const bool place = pattern[i] == '{' && i + 2 < pattern.size() && pattern[i + 2] == '}';
    const auto index = place ? static_cast<std::size_t>(pattern[i + 1] - '0') : values.size();
    if (index < values.size()) {
      text += *(values.begin() + static_cast<std::ptrdiff_t>(index));
      i += 2;
    } else {
      text += pattern[i];
    }
  }
  return text;
}

std::string counted(std::size_t count, Word one, Word many) {
  return say(count == 1 ? one : many, {std::to_string(count)});
}

}  // namespace jigtime::app
