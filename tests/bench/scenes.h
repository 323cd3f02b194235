// The kinds of session that the benchmark draws.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "bench/shop_simulator.h"

namespace jigtime::bench {

enum class Scene {
  in_step,      ///< one source, direct sound in step; two cameras
  spread,       ///< sources all over a shop of 6 by 8 m, microphones up to 4 m apart; two cameras
  chain,        ///< A overlaps B, B overlaps C, A never meets C
  many,         ///< three or four cameras with several clips each, wrong clocks, dropouts of all sorts
  dropouts,     ///< three cameras, pieces lost inside clips without a word
  hour,         ///< an hour, cameras that warm by up to 10 ppm
  repeated,     ///< the same song or phrase twice
  steady,       ///< a compressor all along
  microphones,  ///< automatic gain, clipping, wind, telephone band
  soundless,    ///< one clip without sound, between others of its camera that have it
  unrelated,    ///< clips of different days: nothing belongs together
  impostors,    ///< two clips that belong together and two of another day
  handled,      ///< wind and hands on both cameras all along
};

std::string_view to_text(Scene scene);
std::optional<Scene> scene_named(std::string_view name);

/// One row of the table: what is drawn, the rest being up to the number.
struct Cell {
  Scene scene = Scene::in_step;
  double snr_db = 10;
  double overlap_s = 0;  ///< 0: drawn
};

/// Every cell with clips that belong together, in the order of the table.
std::vector<Cell> all_cells();

/// What days that do not belong together have in common all the same.
enum class Likeness {
  shop,           ///< the same kind of work and the same compressor now and then
  compressor,     ///< the same compressor all along
  machines_only,  ///< nothing but machines on any day
  song,           ///< the same song on the radio for two fifths of each clip, sample for sample
  silence,        ///< long silences
};

std::string_view to_text(Likeness likeness);
std::vector<std::string> all_likenesses();  ///< by their texts
/// Of the sessions of Scene::unrelated and Scene::impostors with this number.
Likeness likeness_of(std::uint64_t number);

/// One plan for each day whose clips are thrown together: more than one only for unrelated and impostors.
std::vector<SessionPlan> draw(const Cell& cell, std::uint64_t number);

}  // namespace jigtime::bench
