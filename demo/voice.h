// Words that nobody can understand: syllables of a pulse train through three formants.
#pragma once

#include <vector>

#include "demo/dice.h"
#include "demo/scenario.h"

namespace jigtime::demo {

/// Adds one phrase at wave_rate_hz. `pitch` 1 is a woman's voice, 0.6 a man's.
void add_words(std::vector<float>& wave, Seconds length, double pitch, Dice& dice);

}  // namespace jigtime::demo
