#include "app/key_queue.h"

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>

#include <algorithm>

namespace jigtime::app {
namespace {

static_assert(key_escape == GLFW_KEY_ESCAPE && key_enter == GLFW_KEY_ENTER && key_tab == GLFW_KEY_TAB &&
              key_delete == GLFW_KEY_DELETE);
static_assert(key_right == GLFW_KEY_RIGHT && key_left == GLFW_KEY_LEFT && key_down == GLFW_KEY_DOWN &&
              key_up == GLFW_KEY_UP);
static_assert(key_page_up == GLFW_KEY_PAGE_UP && key_page_down == GLFW_KEY_PAGE_DOWN && key_home == GLFW_KEY_HOME &&
              key_end == GLFW_KEY_END);
static_assert(key_f1 == GLFW_KEY_F1 && key_pad_add == GLFW_KEY_KP_ADD && key_pad_subtract == GLFW_KEY_KP_SUBTRACT &&
              key_space == GLFW_KEY_SPACE);

bool is_modifier(int key) { return key >= GLFW_KEY_LEFT_SHIFT && key <= GLFW_KEY_RIGHT_SUPER; }

/// The letter that stands on the key in the builder's own layout, so that Z is where their keyboard has it.
int named(int key, int scancode) {
  if (key >= GLFW_KEY_KP_0 && key <= GLFW_KEY_KP_9) return '0' + key - GLFW_KEY_KP_0;
  if (key >= 256 || key == GLFW_KEY_SPACE) return key;
  const char* name = glfwGetKeyName(key, scancode);
  if (name == nullptr || name[0] == 0 || name[1] != 0) return key;
  const char c = name[0];
  if (c == '+') return '=';
  return c >= 'a' && c <= 'z' ? c - 'a' + 'A' : key;
}

}  // namespace

std::vector<Press> KeyQueue::next(GLFWwindow* window, bool text_is_typed) {
  std::vector<Press> presses;
  std::vector<int> down;
  std::vector<int> released;
  while (!events_.empty()) {
    const Event event = events_.front();
    if (!event.is_key && !presses.empty() && text_is_typed) break;  // what is typed behind Enter belongs elsewhere
    const bool letter = text_is_typed && event.is_key && event.key < 256 && (event.mods & GLFW_MOD_CONTROL) == 0;
    if (event.is_key && !letter) {
      const bool pressed = event.action != GLFW_RELEASE && !is_modifier(event.key);
      if ((pressed || is_modifier(event.key)) && !presses.empty()) break;
      // ImGui sees a key that is let go and pressed again within one frame as held all the while.
      if (pressed && std::find(released.begin(), released.end(), event.key) != released.end()) break;
      if (!pressed && std::find(down.begin(), down.end(), event.key) != down.end()) break;
      if (event.action == GLFW_RELEASE) released.push_back(event.key);
      if (pressed) {
        down.push_back(event.key);
        presses.push_back({named(event.key, event.scancode), (event.mods & GLFW_MOD_SHIFT) != 0,
                           (event.mods & GLFW_MOD_CONTROL) != 0});
      }
    }
    if (letter && !presses.empty()) break;
    events_.pop_front();
    if (event.is_key) {
      ImGui_ImplGlfw_KeyCallback(window, event.key, event.scancode, event.action, event.mods);
    } else {
      ImGui_ImplGlfw_CharCallback(window, event.codepoint);
    }
  }
  return presses;
}

}  // namespace jigtime::app
