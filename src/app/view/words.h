// Every visible sentence of the window, by name. What the record itself says (titles, errors of actions, handbook
// sentences) comes from there.
// Must never know: where a sentence stands on the screen.
// Begin reading at: words_english.h, which holds them all; another language is another table of the same names.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

#include "app/view/words_english.h"

namespace jigtime::app {

enum class Word {
#define JIGTIME_WORD(name, text) name,
  JIGTIME_WORDS(JIGTIME_WORD)
#undef JIGTIME_WORD
};

/// Ends in a zero byte, lives as long as the program.
const char* say(Word word);
/// {0}, {1} ... replaced, each as often as it occurs.
std::string say(Word word, std::initializer_list<std::string> values);

/// One of two forms by number: "1 clip", "3 clips".
std::string counted(std::size_t count, Word one, Word many);

}  // namespace jigtime::app
