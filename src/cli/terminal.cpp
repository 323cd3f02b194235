#include "cli/terminal.h"

#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <iostream>
#include <thread>

#include "base/text.h"

namespace jigtime::cli {

Terminal::Terminal(bool json, std::stop_token stop)
    : json_{json}, draws_bar_{::isatty(STDERR_FILENO) == 1}, stop_{std::move(stop)} {}

Terminal::~Terminal() { clear_bar(); }

actions::Watch Terminal::watch() {
  actions::Watch watch;
  watch.stop = stop_;
  watch.threads = std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, 16);
  if (draws_bar_) {
    watch.progress = [this](double fraction, std::string_view doing) {
      constexpr int width = 30;
      const int percent = std::clamp(static_cast<int>(fraction * 100), 0, 100);
      if (percent == last_percent_) return;
      last_percent_ = percent;
      const auto filled = static_cast<std::size_t>(percent * width / 100);
      std::cerr << "\r\033[K[" << std::string(filled, '#') << std::string(width - filled, ' ') << "] " << percent
                << " %  " << shown(std::string{doing}.substr(0, 44)) << std::flush;
      bar_drawn_ = true;
    };
  }
  return watch;
}

void Terminal::clear_bar() {
  if (bar_drawn_) std::cerr << "\r\033[K" << std::flush;
  bar_drawn_ = false;
  last_percent_ = -1;
}

void Terminal::say(std::string_view line) {
  clear_bar();
  if (!json_) std::cout << line << '\n';
}

void Terminal::print(const Json& document) {
  clear_bar();
  if (json_) std::cout << document.dump(1, ' ', false, Json::error_handler_t::replace) << '\n';
}

void Terminal::note(std::string_view line) {
  clear_bar();
  std::cerr << line << '\n';
}

Exit Terminal::fail(const Error& error) {
  return report(error, error.code() == Code::invalid ? Exit::usage : Exit::failed);
}

Exit Terminal::refuse(const Error& error) { return report(error, Exit::failed); }

Exit Terminal::report(const Error& error, Exit status) {
  note("jigtime: " + shown(error.message()));
  print({{"error", {{"code", to_text(error.code())}, {"message", shown(error.message())}}}});
  return status;
}

std::stop_token stop_on_interrupt() {
  static std::stop_source source;
  sigset_t signals;
  sigemptyset(&signals);
  sigaddset(&signals, SIGINT);
  sigaddset(&signals, SIGTERM);
  sigaddset(&signals, SIGHUP);
  // Blocked in every thread that is born from here on, and taken by this one alone.
  pthread_sigmask(SIG_BLOCK, &signals, nullptr);
  std::thread{[signals] {
    int number = 0;
    if (sigwait(&signals, &number) == 0) source.request_stop();
    // A second one means it: no more patience.
    pthread_sigmask(SIG_UNBLOCK, &signals, nullptr);
    while (true) ::pause();
  }}.detach();
  return source.get_token();
}

std::string shown(const std::string& bytes) { return to_utf8(bytes); }

}  // namespace jigtime::cli
