// The window itself: made, woken by events, drawn, closed. It sleeps while nothing happens.
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <iostream>
#include <memory>
#include <optional>

#include "app/app.h"
#include "app/backroom/settings_file.h"
#include "app/deeds.h"
#include "app/fonts.h"
#include "app/frame.h"
#include "app/key_queue.h"
#include "app/painted.h"
#include "app/textures.h"
#include "app/theme.h"
#include "app/times.h"

namespace jigtime::app {
namespace {

constexpr int no_window = 3;
constexpr float body_px = 17;
/// ImGui settles within so many frames after an event.
constexpr int frames_after_event = 3;
/// A field that was opened by a key takes the keyboard within two frames; if it never does, the keys go on.
constexpr int most_held = 20;
/// From one field to the next by Tab: letters that reach ImGui meanwhile belong to no field and are dropped.
constexpr int frames_of_tab = 3;
/// Pictures out of review copies come within some milliseconds: a frame is held back so long for them, since painting
/// one without them first costs as much as painting the one with them.
constexpr double most_awaited_s = 0.015;

int refused(Word why) {
  const char* detail = nullptr;
  glfwGetError(&detail);
  std::cerr << "jigtime: " << say(why, {detail == nullptr ? std::string{} : std::string{detail}}) << "\n";
  return no_window;
}

struct Glfw {
  bool ready = glfwInit() == GLFW_TRUE;
  Glfw() = default;
  Glfw(const Glfw&) = delete;
  Glfw& operator=(const Glfw&) = delete;
  ~Glfw() {
    if (ready) glfwTerminate();
  }
};

using WindowHandle = std::unique_ptr<GLFWwindow, decltype(&glfwDestroyWindow)>;

/// ImGui and its two backends, taken down in the right order.
struct Gui {
  explicit Gui(GLFWwindow* window) {
    IMGUI_CHECKVERSION();
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigInputTextCursorBlink = false;  // a blinking cursor would keep an idle window awake
    ImGui_ImplGlfw_InitForOpenGL(window, false);
    ImGui_ImplOpenGL3_Init("#version 130");
  }
  Gui(const Gui&) = delete;
  Gui& operator=(const Gui&) = delete;
  ~Gui() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
  }
};

class Window {
 public:
  Window(GLFWwindow* window, std::chrono::steady_clock::time_point started)
      : window_{window},
        gui_{window},
        font_file_{preferred_font()},
        model_{[] { glfwPostEmptyEvent(); }},
        times_{started} {
    glfwSetWindowUserPointer(window, this);
    set_callbacks();
    scale_ = content_scale();
    remake_looks();
  }
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  void open(const std::filesystem::path& journal) {
    if (!journal.empty()) open_journal(model_, journal);
  }

  void run() {
    while (glfwWindowShouldClose(window_) == GLFW_FALSE && !model_.wants_to_close) {
      frame();
      wait();
    }
    times_.closing(model_.playback.take_counts());
    remember_size();
  }

 private:
  static Window& of(GLFWwindow* window) { return *static_cast<Window*>(glfwGetWindowUserPointer(window)); }

  void awake() { frames_left_ = frames_after_event; }

  void begin_afresh() {
    painted_.forget();
    awake();
  }

  void set_callbacks() {
    glfwSetKeyCallback(window_, [](GLFWwindow* w, int key, int scancode, int action, int mods) {
      if (key != GLFW_KEY_UNKNOWN) of(w).keys_.key(key, scancode, action, mods);
      of(w).awake();
    });
    glfwSetCharCallback(window_, [](GLFWwindow* w, unsigned int letter) {
      of(w).keys_.letter(letter);
      of(w).awake();
    });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* w, int button, int action, int mods) {
      ImGui_ImplGlfw_MouseButtonCallback(w, button, action, mods);
      of(w).awake();
    });
    glfwSetScrollCallback(window_, [](GLFWwindow* w, double x, double y) {
      ImGui_ImplGlfw_ScrollCallback(w, x, y);
      of(w).awake();
    });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* w, int entered) {
      ImGui_ImplGlfw_CursorEnterCallback(w, entered);
      of(w).awake();
    });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* w, int focused) {
      ImGui_ImplGlfw_WindowFocusCallback(w, focused);
      of(w).awake();
    });
    glfwSetCursorPosCallback(window_, [](GLFWwindow* w, double, double) { of(w).awake(); });
    glfwSetWindowRefreshCallback(window_, [](GLFWwindow* w) { of(w).begin_afresh(); });
    glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* w, int, int) { of(w).begin_afresh(); });
    glfwSetWindowContentScaleCallback(window_, [](GLFWwindow* w, float, float) {
      of(w).scale_ = of(w).content_scale();
      of(w).model_.settings_changed = true;
      of(w).awake();
    });
    glfwSetDropCallback(window_, [](GLFWwindow* w, int count, const char** paths) {
      std::vector<std::filesystem::path> dropped(paths, paths + count);
      take_dropped(of(w).model_, dropped);
      of(w).awake();
    });
  }

  float content_scale() const {
    float x = 1;
    float y = 1;
    glfwGetWindowContentScale(window_, &x, &y);
    return x > 0 ? x : 1;
  }

  void remake_looks() {
    const float scale = scale_ * static_cast<float>(model_.settings.scale_percent) / 100.0F;
    use_theme(model_.settings.paper, scale);
    load_fonts(font_file_, body_px * scale);
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    model_.settings_changed = false;
    painted_.forget();
  }

  void frame() {
    last_frame_s_ = glfwGetTime();
    if (model_.mailbox.open()) awake();
    if (model_.settings_changed) {
      remake_looks();
      (void)save_settings(model_.settings);
    }
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    const std::vector<Press> presses = next_presses();
    ImGui::NewFrame();
    draw_frame(model_, presses);
    ImGui::Render();
    if (!awaits_pictures() && painted_.differs(*ImGui::GetDrawData(), Texture::uploads())) paint();
    if (times_.wanted()) {
      const bool bench = model_.screen == Screen::bench && model_.bench_view() != nullptr;
      times_.shown(bench && !model_.playback.fetching());
    }
    name_window();
  }

  /// Nothing while a field is on its way to the keyboard: what is typed behind the key that opened it belongs there.
  std::vector<Press> next_presses() {
    if (field_is_opening(model_) && ++held_ <= most_held) return {};
    held_ = 0;
    if (frames_to_next_field_ > 0) {
      --frames_to_next_field_;
      return {};
    }
    const bool typed = text_is_typed(model_);
    std::vector<Press> presses = keys_.next(window_, typed);
    const auto pressed = [&](int key) {
      return std::any_of(presses.begin(), presses.end(), [key](const Press& one) { return one.key == key; });
    };
    const bool tab = pressed(key_tab);
    if (pressed(key_enter)) times_.entered();
    if (typed && tab) frames_to_next_field_ = frames_of_tab;
    return presses;
  }

  bool awaits_pictures() {
    const bool fetching = model_.screen == Screen::bench && model_.playback.fetching();
    if (!fetching) {
      awaited_until_.reset();
      return false;
    }
    if (!awaited_until_) awaited_until_ = last_frame_s_ + most_awaited_s;
    return glfwGetTime() < *awaited_until_;
  }

  void name_window() {
    const std::string title = model_.snapshot ? model_.snapshot->build.name + " - Jigtime" : std::string{"Jigtime"};
    if (title == title_) return;
    title_ = title;
    glfwSetWindowTitle(window_, title_.c_str());
  }

  void paint() {
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window_, &width, &height);
    const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(palette().ground);
    glViewport(0, 0, width, height);
    glClearColor(ground.x, ground.y, ground.z, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window_);
  }

  /// Sleeps until something happens; while the film runs, until the next picture is due.
  void wait() {
    constexpr double picture_s = 1.0 / 60;
    if (model_.playback.playing()) {
      // Pictures wake the window as they come: more often than they can be seen is of no use.
      const double due = last_frame_s_ + picture_s;
      for (double now = glfwGetTime(); now < due; now = glfwGetTime()) glfwWaitEventsTimeout(due - now);
      glfwPollEvents();
      return;
    }
    if (const double left = awaited_until_ ? *awaited_until_ - glfwGetTime() : 0; left > 0) {
      glfwWaitEventsTimeout(left);
      return;
    }
    if (frames_left_ > 0 || !keys_.empty()) {
      --frames_left_;
      glfwPollEvents();
      return;
    }
    glfwWaitEvents();  // a picture that has come wants one frame, whatever else comes calls awake()
  }

  void remember_size() {
    if (glfwGetWindowAttrib(window_, GLFW_MAXIMIZED) == GLFW_FALSE) {
      glfwGetWindowSize(window_, &model_.settings.width, &model_.settings.height);
    }
    (void)save_settings(model_.settings);
  }

  GLFWwindow* window_;
  Gui gui_;
  std::string font_file_;
  std::string title_;
  KeyQueue keys_;
  Painted painted_;
  Model model_;
  Times times_;
  float scale_ = 1;
  double last_frame_s_ = 0;
  std::optional<double> awaited_until_;  ///< pictures of the moment on show are being fetched
  int frames_left_ = frames_after_event;
  int held_ = 0;
  int frames_to_next_field_ = 0;
};

}  // namespace

int run_window(const std::filesystem::path& journal) {
  const auto started = std::chrono::steady_clock::now();
  const Glfw glfw;
  if (!glfw.ready) return refused(Word::no_screen);
  const Settings settings = load_settings();
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
  glfwWindowHint(GLFW_SCALE_TO_MONITOR, GLFW_TRUE);
  const WindowHandle window{glfwCreateWindow(settings.width, settings.height, "Jigtime", nullptr, nullptr),
                            &glfwDestroyWindow};
  if (!window) return refused(Word::no_opengl);
  glfwSetWindowSizeLimits(window.get(), 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
  glfwMakeContextCurrent(window.get());
  glfwSwapInterval(1);
  Window shown{window.get(), started};
  shown.open(journal);
  shown.run();
  return 0;
}

}  // namespace jigtime::app
