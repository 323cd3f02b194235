// The four-sided shop clock that hangs over the bench: a dial with the time of day, the session's time in lit
// digits with tenths, and the lamp that burns while the rivet gun fires. Every camera sees one side of it.
#pragma once

#include <array>

#include "demo/canvas.h"
#include "demo/scenario.h"

namespace jigtime::demo {

class ShopClock {
 public:
  /// Hangs with its middle at `centre` of pictures of this height.
  ShopClock(Dot centre, int picture_height);

  /// The two rods it hangs from.
  void hang(Canvas& room) const;

  enum class Lamp { dark, lit };
  /// `time_of_day` in seconds since midnight, `session` in seconds since the session began (0 to 10 h; 0 before).
  void draw(Canvas& canvas, Seconds time_of_day, Seconds session, Lamp lamp) const;

 private:
  void draw_digits(Canvas& canvas, Seconds session) const;
  void draw_hands(Canvas& canvas, Seconds time_of_day) const;

  double unit_;  ///< pixels of one unit; the board is 96 by 62 units
  int left_;
  int top_;
  Canvas board_;
  std::vector<Canvas> digits_;
};

}  // namespace jigtime::demo
