// Makes the moments of one phase after the other; internal to the story.
#pragma once

#include "demo/story.h"

namespace jigtime::demo {

class StoryTeller {
 public:
  explicit StoryTeller(const Scenario& scenario);
  Story finish();

 private:
  void work(const Phase& phase);
  void talk(const Phase& phase);
  void speak(const Phase& phase, const std::vector<Stretch>& present, Point mouth, double pitch,
             std::vector<Stretch>& spoken);
  void put_tools_down(const Phase& phase);
  void steady_noise(SoundKind kind, Stretch when, Point at, double level);

  void walk_in_and_out();
  void set_pins(const Phase& phase);
  void drill_holes(const Phase& phase);
  void drive_rivets(const Phase& phase);
  void study_plans(const Phase& phase);
  void check_heads(const Phase& phase);
  void replace_rivet(const Phase& phase);
  void brush_off(const Phase& phase);
  void file_brackets();

  /// Returns when the hands are free again.
  Seconds drive_rivet(int hole, Seconds from);
  Burst pull_trigger(Seconds from, double blows_per_second);
  void drill_at(Seconds begin, Seconds length, Point at);
  void sound(SoundKind kind, Seconds begin, Seconds length, Point at, double level);
  bool helper_holds_bar(Seconds t) const;

  const Scenario& scenario_;
  Story story_;
  Dice dice_;
  std::vector<int> order_;  ///< of holes to be riveted
  std::size_t next_ = 0;    ///< in order_
};

}  // namespace jigtime::demo
