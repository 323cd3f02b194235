// Keys and letters as they come in, handed to ImGui one press a frame: it looks at what is down once a frame and would
// miss what was pressed and let go in between.
#pragma once

#include <deque>
#include <vector>

#include "app/view/keys.h"

struct GLFWwindow;

namespace jigtime::app {

class KeyQueue {
 public:
  void key(int key, int scancode, int action, int mods) { events_.push_back({true, key, scancode, action, mods, 0}); }
  void letter(unsigned int codepoint) { events_.push_back({false, 0, 0, 0, 0, codepoint}); }
  bool empty() const { return events_.empty(); }

  /// Hands the events of one frame to ImGui and returns the presses among them: one, and before it, where text is
  /// typed, any number of letters.
  std::vector<Press> next(GLFWwindow* window, bool text_is_typed);

 private:
  struct Event {
    bool is_key = false;
    int key = 0;
    int scancode = 0;
    int action = 0;
    int mods = 0;
    unsigned int codepoint = 0;
  };
  std::deque<Event> events_;
};

}  // namespace jigtime::app
